#pragma once
/// Every spot a plan may stop at, tied to the road the van leaves it on: bases, locations, places to eat and sleep.
///
/// Footpaths are not read yet: the way between van and spot is estimated as 1.4 times the straight line at 4 km/h
/// (planning figures of ours, no source), and said so in the plan. Under 30 m there is no walk.

#include "routing/order/problem.hpp"
#include "routing/roads/hierarchy/metric.hpp"
#include "routing/shoot/region.hpp"
#include "routing/shoot/shoot.hpp"

#include <optional>
#include <string>
#include <vector>

namespace routing::shoot {

struct StopPoint {
    geo::Coordinate at;
    roads::RoadPoint road; ///< where the van stands
    Seconds walk{0};       ///< van to spot, one way
    geo::Metres walk_length;
};

/// Straight distances below this are no walk.
inline constexpr geo::Metres no_walk_below{30.0};

/// Fills `walk` and `walk_length` from the straight distance between spot and road point.
StopPoint with_walk(geo::Coordinate at, roads::RoadPoint road);

/// Points of the ordering problem, by number.
struct StopPoints {
    std::vector<StopPoint> points;
    std::optional<order::Point> base;
    std::vector<order::Point> locations;                  ///< by location number
    std::vector<std::optional<order::Point>> fixed_meals; ///< by meal number
    std::optional<order::Point> fixed_bed;
    std::optional<order::Point> start; ///< where a running day goes on from
    Seconds drive_out{0};              ///< from where the crew stands on a shut road to `start`, an open one
    /// Map places that serve as meal or bed, by number in Region::places; points run from `first_place` on.
    std::vector<std::uint32_t> places;
    order::Point first_place = 0;

    order::Point point_of_place(std::size_t n) const { return first_place + static_cast<order::Point>(n); }
    /// The place behind a point, or nothing for other points.
    std::optional<std::uint32_t> place_at(order::Point point) const;
};

/// Snaps everything. A spot whose road is shut is put on an open one that begins right there (within 30 m), as at a
/// junction; else it stays on the shut road and is cut off. Throws geo::InputError, naming all of them at once, for
/// spots too far from any road the van may use and for locations whose walk is longer than the crew walks. Map places
/// no road reaches are left out. `start` adds the point a running day goes on from; a start at a location uses that
/// location's point.
StopPoints gather_points(const Shoot& shoot, const Region& region, const roads::ClosedEdges& closed_edges,
                         std::optional<geo::Coordinate> start);

/// Van and foot together, whole seconds, each direction.
order::TravelMatrix travel_matrix(const StopPoints& points, const roads::hierarchy::Metric& roads_open);

/// Whole seconds of a van time, rounded up.
Seconds whole_seconds(roads::Milliseconds time);

} // namespace routing::shoot
