#pragma once
/// Every spot a plan may stop at, tied to the road the van leaves it on: bases, locations, places to eat and sleep.
///
/// A location off the road has a point for each place the van may be left at (see parking.hpp); the order picks. Bases,
/// meals and beds are taken to have their own place to stop: the way from the road is estimated from the straight line.

#include "routing/order/problem.hpp"
#include "routing/roads/hierarchy/metric.hpp"
#include "routing/shoot/closed_roads.hpp"
#include "routing/shoot/parking.hpp"
#include "routing/shoot/region.hpp"
#include "routing/shoot/shoot.hpp"

#include <algorithm>
#include <optional>
#include <string>
#include <vector>

namespace routing::shoot {

/// The crew's way out of a shut road it stands on.
struct WayOut {
    roads::Path path;
    roads::RoadPoint to; ///< on an open road
};

/// Points of the ordering problem, by number.
struct StopPoints {
    std::vector<StopPoint> points;
    std::optional<order::Point> base;
    /// By location number: a point for each place to leave the van, quickest walk first. Never empty.
    std::vector<std::vector<order::Point>> locations;
    std::vector<std::optional<order::Point>> fixed_meals; ///< by meal number
    std::optional<order::Point> fixed_bed;
    std::optional<order::Point> start; ///< where a running day goes on from
    std::optional<WayOut> way_out;     ///< the van leaves `start` by this, whenever it does
    /// Map places that serve as meal or bed, by number in Region::places; points run from `first_place` on.
    std::vector<std::uint32_t> places;
    order::Point first_place = 0;

    /// Where the van sets off for other points, and how long after the crew has left: once it has walked back to the
    /// van, and driven out of a shut road.
    const roads::RoadPoint& sets_off_at(order::Point point) const;
    Seconds before_setting_off(order::Point point) const;
    bool drives_out_from(order::Point point) const { return way_out && start == point; }

    bool is_at(order::Point point, std::size_t location) const {
        return std::find(locations[location].begin(), locations[location].end(), point) != locations[location].end();
    }
    order::Point point_of_place(std::size_t n) const { return first_place + static_cast<order::Point>(n); }
    /// The place behind a point, or nothing for other points.
    std::optional<std::uint32_t> place_at(order::Point point) const;
};

/// Where and when a running day goes on.
struct CrewStart {
    geo::Coordinate at;
    std::optional<geo::Coordinate> van; ///< where it stands, when the plan tells
    Instant when;
    /// Stays on a road that is shut for a time until it reopens; else drives out of it at once.
    bool stays = false;
};

/// Snaps everything. A spot whose road is ever shut is put on another one that begins right there (within 30 m), as at
/// a junction; else it stays on the shut road and is cut off while that is shut. Throws geo::InputError, naming all of
/// them at once, for spots too far from any road the van may use and for locations whose walk is longer than the crew
/// walks. Map places no road reaches are left out. `start` adds the point a running day goes on from; a start at a
/// location uses that location's point, the one where the van stands when that is known.
StopPoints gather_points(const Shoot& shoot, const Region& region, const ClosedRoads& shut,
                         const std::optional<CrewStart>& start);

/// Van and foot together, whole seconds, each direction.
order::TravelMatrix travel_matrix(const StopPoints& points, const roads::hierarchy::Metric& roads_open);

/// Whole seconds of a van time, rounded up.
Seconds whole_seconds(roads::Milliseconds time);

} // namespace routing::shoot
