#pragma once
/// Whether a plan holds: everything in it reckoned anew from the shoot and the map, without the solver, its tables or
/// its words.
///
///     for (const PlanFault& fault : check_plan(plan, shoot, region)) ...
///
/// - **Legs** (plan_check_legs): plain Dijkstra on the road network; under closures for a time the plain search by the
///   hour of departure. Walks by a search on foot from where the van stands, asked anew.
/// - **Scenes** (plan_check_scenes): the whole of filming in its light, by geo::light_windows; set-up, filming and
///   packing inside the location's opening hours; minutes, limits of the scene, order.
/// - **Meals and beds** (plan_check_services): hours on the map, between, after the call; kinds asked for.
/// - **Days** (plan_check): each stop after the one before; call, wrap, turnaround, ends; leave-by and slack; totals;
///   every scene once, planned or left out with a reason.
///
/// What is past in a re-plan (PlanStop::is_begun) is taken as it is told. Whether another order would be better is not
/// asked.

#include "routing/shoot/plan_fault.hpp"
#include "routing/shoot/region.hpp"

namespace routing::shoot {

/// None: the plan holds. Days, scenes and options must be those of the shoot. A second is allowed for rounding.
std::vector<PlanFault> check_plan(const Plan& plan, const Shoot& shoot, const Region& region);

} // namespace routing::shoot
