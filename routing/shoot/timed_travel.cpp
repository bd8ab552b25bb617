#include "routing/shoot/timed_travel.hpp"

#include "routing/places/place_kind.hpp"

#include <algorithm>
#include <cassert>

namespace routing::shoot {

TimedTravel::TimedTravel(const Region& region, roads::hierarchy::Metric& roads_open, const ClosedRoads& shut,
                         const StopPoints& points)
    : region_(region), points_(points), shut_(roads_open.network().edges.size(), shut.timed) {
    if (shut_.edges_ever_shut().empty())
        return;
    std::vector<roads::RoadPoint> leaving, reaching;
    for (order::Point point = 0; point < points.points.size(); ++point) {
        leaving.push_back(points.sets_off_at(point));
        reaching.push_back(points.points[point].road);
    }
    legs_.emplace(roads_open, shut_, leaving, reaching);
    finder_.emplace(roads_open, shut_);
}

/// A place found in the map for meals.
bool TimedTravel::is_only_eaten_at(order::Point point) const {
    const auto place = points_.place_at(point);
    return place && places::need_of(region_.places[*place].kind) == places::Need::food;
}

/// Van and foot together, whole seconds, as travel_matrix counts them.
std::int32_t TimedTravel::travel_at(order::Point from, order::Point to, Instant departure) {
    const Seconds out = points_.before_setting_off(from);
    const roads::Milliseconds van = legs_->time(from, to, departure + out);
    if (van >= roads::closed)
        return order::TravelMatrix::unreachable;
    return static_cast<std::int32_t>((out + whole_seconds(van) + points_.points[to].walk.time).count());
}

std::vector<order::VaryingLeg> TimedTravel::varying_legs(const order::TravelMatrix& travel, order::TimeWindow hours) {
    if (!any())
        return {};
    const auto unsettled = [&](order::Point from, order::Point to) {
        if (is_only_eaten_at(from) && is_only_eaten_at(to))
            return geo::Intervals{}; // nobody goes from one meal's place to another's
        geo::Intervals departures = legs_->unsettled(from, to);
        for (geo::Interval& span : departures)
            span = {span.from - points_.before_setting_off(from), span.until - points_.before_setting_off(from)};
        return departures;
    };
    return order::varying_legs(
        travel, unsettled,
        [&](order::Point from, order::Point to, Instant departure) { return travel_at(from, to, departure); }, hours);
}

roads::timed::TimedPath TimedTravel::way(order::Point from, order::Point to, Instant departure) {
    auto path = finder_->quickest(points_.sets_off_at(from), points_.points[to].road, departure);
    assert(path && "the order goes where there is a way");
    return std::move(*path);
}

std::vector<ShutRoad> TimedTravel::shut_roads(const roads::timed::TimedPath& way, Instant departure) const {
    constexpr Seconds near{24 * 3600};
    const Instant arrival = departure + whole_seconds(way.time);
    const roads::RoadNetwork& network = finder_->network();
    std::vector<ShutRoad> found;
    for (const roads::PathPiece& piece : way.pieces)
        for (const geo::Interval& shut : shut_.shut_times_of(piece.edge)) {
            if (shut.until < departure - near || shut.from > arrival + near)
                continue;
            ShutRoad road{network.name_of(network.edges[roads::value(piece.edge)]), shut};
            if (std::find(found.begin(), found.end(), road) == found.end())
                found.push_back(std::move(road));
        }
    return found;
}

} // namespace routing::shoot
