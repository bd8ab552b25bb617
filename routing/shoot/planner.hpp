#pragma once
/// From the crew's words and a map to a plan: builds the ordering problem, solves it, and puts the answer back into
/// words.
///
///     const Plan plan = plan_shoot(shoot, load_region("map.osm.pbf", shoot.crew.vehicle), {});

#include "routing/order/solve.hpp"
#include "routing/shoot/plan.hpp"
#include "routing/shoot/region.hpp"
#include "routing/shoot/shoot.hpp"

namespace routing::shoot {

struct PlanSettings {
    order::SolveLimits limits;
};

/// Throws geo::InputError when the input can't be planned at all: a location off the map, a closure that matches
/// nothing, a base no road reaches. A scene that can't be had is no error: it is in Plan::dropped with its reason, and
/// the result is `partial` when it was a must.
Plan plan_shoot(const Shoot& shoot, const Region& region, const PlanSettings& settings);

} // namespace routing::shoot
