#pragma once
/// The step planning and re-planning share: build the problem, solve, explain, put into words.

#include "routing/shoot/closed_roads.hpp"
#include "routing/shoot/order_builder.hpp"
#include "routing/shoot/planner.hpp"
#include "routing/shoot/stop_points.hpp"

#include <optional>

namespace routing::shoot {

/// Plans the days from `running` on (all of them without it); Plan::days holds just those. The crew's
/// wishes on roads are kept as avoided_roads.hpp says.
Plan solve_shoot(const Shoot& shoot, const Region& region, const StopPoints& snapped, const ClosedRoads& shut,
                 const std::optional<Running>& running, const PlanSettings& settings);

} // namespace routing::shoot
