#include "routing/shoot/planner.hpp"

#include "routing/shoot/solve_shoot.hpp"

namespace routing::shoot {

Plan plan_shoot(const Shoot& shoot, const Region& region, const PlanSettings& settings) {
    const ClosedRoads shut = close_roads(shoot, {}, region);
    const StopPoints points = gather_points(shoot, region, shut.edges, std::nullopt);
    return solve_shoot(shoot, region, points, shut, std::nullopt, settings);
}

} // namespace routing::shoot
