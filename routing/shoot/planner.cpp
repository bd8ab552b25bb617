#include "routing/shoot/planner.hpp"

#include "geo/input_error.hpp"
#include "routing/shoot/solve_shoot.hpp"

namespace routing::shoot {

Plan plan_shoot(const Shoot& shoot, const Region& region, const PlanSettings& settings) {
    const ClosedRoads shut = close_roads(shoot, {}, region);
    const StopPoints points = gather_points(shoot, region, shut, std::nullopt);
    if (points.base && !shut.edges.empty() && shut.edges[roads::value(points.points[*points.base].road.edge)])
        throw geo::InputError({{shoot.file, "/base/at", shoot.base->name,
                                "stands on a road that the closures shut, or hours and seasons on the map",
                                "narrow the closure, or put the base beside an open road"}});
    return solve_shoot(shoot, region, points, shut, std::nullopt, settings);
}

} // namespace routing::shoot
