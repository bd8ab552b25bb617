#include "routing/shoot/stop_points.hpp"

#include "geo/geodesic.hpp"
#include "geo/input_error.hpp"
#include "routing/roads/hierarchy/travel_table.hpp"
#include "routing/roads/shortest_path.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace routing::shoot {

namespace {

/// A spot farther from every road than this is taken for a slip in its coordinates.
constexpr geo::Metres farthest_from_road{5000.0};
/// Map places farther from a road than this are not offered.
constexpr geo::Metres farthest_place_from_road{300.0};
/// A running day's start this near to a location counts as being there.
constexpr geo::Metres at_location_within{150.0};
/// Roads meeting this near to a spot on a shut road serve it as well.
constexpr geo::Metres same_spot_within{30.0};
constexpr std::size_t edges_at_junction = 16;
/// So many of the nearest roads are tried for a way out of a shut one.
constexpr std::size_t edges_to_drive_out = 3000;
constexpr geo::Metres drive_out_within{60'000.0};

std::string coordinate_text(geo::Coordinate place) {
    char text[64];
    std::snprintf(text, sizeof text, "%.5f,%.5f", place.latitude.value, place.longitude.value);
    return text;
}

/// Snaps one spot after the other and keeps the faults.
class Snapper {
public:
    Snapper(const Shoot& shoot, const Region& region, const roads::ClosedEdges& closed_edges)
        : shoot_(shoot), region_(region), closed_edges_(&closed_edges) {}

    /// Nearest usable road, an open one where the nearest is shut but an open one begins at the same spot.
    std::optional<roads::RoadPoint> road_near(geo::Coordinate at, geo::Metres limit) const {
        auto road = region_.index.nearest(at, limit);
        if (!road || !is_shut(*road))
            return road;
        for (roads::RoadPoint& other : region_.index.nearest_edges(road->at, edges_at_junction, same_spot_within))
            if (!is_shut(other) && region_.index.is_round_trip(other.edge))
                return other;
        return road;
    }

    order::Point add(geo::Coordinate at, std::optional<geo::Coordinate> park_at, const std::string& field,
                     const std::string& what) {
        const auto road = road_near(park_at.value_or(at), farthest_from_road);
        if (!road) {
            report_far(park_at.value_or(at), park_at ? field + "/park_at" : field, what);
            return 0;
        }
        return push(with_estimated_walk(at, *road));
    }

    order::Point push(StopPoint point) {
        points.points.push_back(std::move(point));
        return static_cast<order::Point>(points.points.size() - 1);
    }

    StopPoints points;
    std::vector<geo::InputFault> faults;

    const roads::ClosedEdges& closed_edges() const { return *closed_edges_; }
    bool is_shut(const roads::RoadPoint& road) const {
        return !closed_edges_->empty() && (*closed_edges_)[roads::value(road.edge)];
    }
    /// What counts as shut from here on.
    void shut_instead(const roads::ClosedEdges& closed_edges) { closed_edges_ = &closed_edges; }

private:
    void report_far(geo::Coordinate at, const std::string& field, const std::string& what) {
        const auto nearest = region_.index.nearest_edges(at, 1, geo::Metres{2.1e7});
        std::string problem = "(" + what + ") is off the map";
        if (!nearest.empty()) {
            char distance[64];
            std::snprintf(distance, sizeof distance, "%.1f km from the nearest road in ",
                          nearest.front().moved.value / 1000.0);
            problem = "(" + what + ") is " + distance + region_.file;
        }
        if (field.empty()) { // from the command line
            const geo::Coordinate turned{at.longitude, at.latitude};
            const bool swapped = geo::is_valid(turned) && region_.index.nearest(turned, farthest_from_road);
            faults.push_back({"--at", "", coordinate_text(at), problem,
                              swapped ? "latitude and longitude look swapped: give latitude first"
                                      : "check latitude and longitude"});
            return;
        }
        faults.push_back({shoot_.file, field, coordinate_text(at), problem,
                          "check latitude and longitude, or name the extract that covers it under /region"});
    }

    const Shoot& shoot_;
    const Region& region_;
    const roads::ClosedEdges* closed_edges_;
};

bool wanted_place(const Shoot& shoot, places::PlaceKind kind) {
    const auto in = [kind](const std::vector<places::PlaceKind>& kinds) {
        return std::find(kinds.begin(), kinds.end(), kind) != kinds.end();
    };
    const bool meal = std::any_of(shoot.meals.begin(), shoot.meals.end(), [&](const MealWish& wish) {
        return wish.where == MealWhere::find && in(wish.kinds);
    });
    return meal || (shoot.lodging && shoot.lodging->find && in(shoot.lodging->kinds));
}

void add_places(StopPoints& points, const Shoot& shoot, const Region& region, const Snapper& snap) {
    points.first_place = static_cast<order::Point>(points.points.size());
    for (std::uint32_t n = 0; n < region.places.size(); ++n) {
        const places::Place& place = region.places[n];
        if (!wanted_place(shoot, place.kind))
            continue;
        const auto road = snap.road_near(place.at, farthest_place_from_road);
        if (!road)
            continue;
        points.points.push_back(with_estimated_walk(place.at, *road));
        points.places.push_back(n);
    }
}

void check_walk(const Shoot& shoot, std::size_t location, const StopPoint& point,
                std::vector<geo::InputFault>& faults) {
    if (point.walk.time <= shoot.crew.max_walk || point.cut_off)
        return;
    const std::string problem = "is " + std::to_string(std::chrono::ceil<minutes>(point.walk.time).count()) +
                                " min on foot from the nearest place the van can stop, " +
                                coordinate_text(point.road.at) +
                                (point.estimated ? ", estimated: no path on the map leads there" : "") +
                                " (crew.walk.max_minutes is " + std::to_string(shoot.crew.max_walk.count()) + ")";
    faults.push_back({shoot.file, "/locations/" + std::to_string(location), shoot.locations[location].id, problem,
                      "give park_at nearer to it, or raise /crew/walk/max_minutes"});
}

/// To the open road reached soonest from `here` on a shut one. One that still leads to `anchor` goes
/// before others: a side road off the shut stretch is no way out.
std::optional<WayOut> find_way_out(const Snapper& snap, const Region& region, const roads::RoadPoint& here,
                                   const roads::RoadPoint& anchor) {
    std::vector<roads::RoadPoint> open;
    for (const roads::RoadPoint& road : region.index.nearest_edges(here.at, edges_to_drive_out, drive_out_within))
        if (!snap.is_shut(road) && region.index.is_round_trip(road.edge))
            open.push_back(road);
    roads::PathFinder paths(*region.network);
    const std::vector<roads::Milliseconds> out = paths.travel_times({here}, open);
    const std::vector<roads::Milliseconds> connected = paths.travel_times({anchor}, open, snap.closed_edges());
    std::optional<std::size_t> best;
    const auto key = [&](std::size_t n) { return std::pair{connected[n] >= roads::closed, out[n]}; };
    for (std::size_t n = 0; n < open.size(); ++n)
        if (out[n] < roads::closed && (!best || key(n) < key(*best)))
            best = n;
    if (!best)
        return std::nullopt;
    return WayOut{*paths.quickest_path(here, open[*best]), open[*best]};
}

/// The point of a location for where the van was left, whatever the choices would be now.
order::Point where_van_stands(const Snapper& snap, std::size_t location, geo::Coordinate van) {
    const auto& choices = snap.points.locations[location];
    return *std::min_element(choices.begin(), choices.end(), [&](order::Point a, order::Point b) {
        return geo::distance(snap.points.points[a].road.at, van) < geo::distance(snap.points.points[b].road.at, van);
    });
}

/// The spot of the shoot nearest to where the crew is, or a point of its own on the road it stands on. On a shut road
/// every way on begins with driving out to an open one.
order::Point add_start(Snapper& snap, const Shoot& shoot, const Region& region, const CrewStart& crew,
                       const roads::ClosedEdges& kept_off) {
    const geo::Coordinate here = crew.at;
    snap.shut_instead(kept_off);
    StopPoints& points = snap.points;
    std::optional<order::Point> known = points.base;
    geo::Metres nearest = known ? geo::distance(here, shoot.base->at) : geo::Metres{1e9};
    for (std::size_t n = 0; n < points.locations.size(); ++n)
        if (const geo::Metres away = geo::distance(here, shoot.locations[n].at); away < nearest) {
            nearest = away;
            known = crew.van ? where_van_stands(snap, n, *crew.van) : points.locations[n].front();
        }
    const auto drive_out_of = [&](const StopPoint& point) {
        if (snap.is_shut(point.road))
            points.way_out = find_way_out(snap, region, point.road, points.points.front().road);
    };
    if (known && nearest <= at_location_within && snap.faults.empty()) {
        StopPoint& point = points.points[*known];
        if (const auto van = point.cut_off && crew.van ? snap.road_near(*crew.van, farthest_from_road) : std::nullopt) {
            point = with_estimated_walk(point.at, *van);
            point.cut_off = true;
        }
        drive_out_of(point);
        return *known;
    }
    const order::Point start = snap.add(here, std::nullopt, "", "where the crew is");
    if (!snap.faults.empty())
        return start;
    StopPoint& point = points.points[start];
    drive_out_of(point);
    point.walk = {}; // the van is with the crew: no walk back to it
    point.walk_back = Seconds{0};
    return start;
}

/// Gives the point just added for a location its walk, and adds one for every other place to leave the van.
void add_walks(Snapper& snap, ParkingFinder& parking, const Location& location, std::size_t number, Seconds longest,
               bool paths_shut) {
    StopPoint& first = snap.points.points[snap.points.locations[number].front()];
    if (geo::distance(location.at, first.road.at) < no_walk_below)
        return;
    const auto choices = location.park_at ? std::vector<StopPoint>{} : parking.choices(location.at);
    first = choices.empty() ? parking.stopping_at(first.road, location.at) : choices.front();
    // Too long is a fault of the shoot file, but not where closures make it so.
    first.cut_off = first.cut_off || (paths_shut && first.walk.time > longest);
    for (std::size_t n = 1; n < choices.size(); ++n)
        snap.points.locations[number].push_back(snap.push(choices[n]));
}

} // namespace

std::optional<std::uint32_t> StopPoints::place_at(order::Point point) const {
    if (point < first_place || point >= first_place + places.size())
        return std::nullopt;
    return places[point - first_place];
}

const roads::RoadPoint& StopPoints::sets_off_at(order::Point point) const {
    return drives_out_from(point) ? way_out->to : points[point].road;
}

Seconds StopPoints::before_setting_off(order::Point point) const {
    return points[point].walk_back + (drives_out_from(point) ? whole_seconds(way_out->path.time) : Seconds{0});
}

StopPoints gather_points(const Shoot& shoot, const Region& region, const ClosedRoads& shut,
                         const std::optional<CrewStart>& start) {
    const roads::ClosedEdges ever = ever_shut(shut, *region.network);
    Snapper snap(shoot, region, ever);
    ParkingFinder parking(region, shoot.crew, shut, shoot.ground);
    StopPoints& points = snap.points;
    if (shoot.base)
        points.base = snap.add(shoot.base->at, std::nullopt, "/base/at", "base");
    for (std::size_t n = 0; n < shoot.locations.size(); ++n) {
        const Location& location = shoot.locations[n];
        const std::size_t faults_before = snap.faults.size();
        const order::Point point =
            snap.add(location.at, location.park_at, "/locations/" + std::to_string(n) + (location.park_at ? "" : "/at"),
                     "location " + location.id);
        points.locations.push_back({point});
        if (snap.faults.size() > faults_before)
            continue;
        add_walks(snap, parking, location, n, shoot.crew.max_walk, !shut.foot.empty());
        check_walk(shoot, n, points.points[point], snap.faults);
    }
    for (std::size_t n = 0; n < shoot.meals.size(); ++n) {
        points.fixed_meals.emplace_back();
        if (shoot.meals[n].where == MealWhere::fixed)
            points.fixed_meals.back() = snap.add(shoot.meals[n].fixed.at, std::nullopt,
                                                 "/meals/" + std::to_string(n) + "/where/at", shoot.meals[n].name);
    }
    if (shoot.lodging && !shoot.lodging->find)
        points.fixed_bed = snap.add(shoot.lodging->fixed.at, std::nullopt, "/lodging/where/at", "lodging");
    if (start)
        points.start = add_start(snap, shoot, region, *start,
                                 start->stays ? shut.edges : shut_at(shut, start->when, *region.network));
    if (!snap.faults.empty())
        throw geo::InputError(snap.faults);
    snap.shut_instead(ever);
    add_places(points, shoot, region, snap);
    return points;
}

Seconds whole_seconds(roads::Milliseconds time) {
    return Seconds{(static_cast<std::int64_t>(time) + 999) / 1000};
}

order::TravelMatrix travel_matrix(const StopPoints& points, const roads::hierarchy::Metric& roads_open) {
    const auto size = static_cast<order::Point>(points.points.size());
    order::TravelMatrix matrix;
    matrix.size = size;
    matrix.seconds.assign(std::size_t{size} * size, order::TravelMatrix::unreachable);

    std::vector<roads::RoadPoint> leaving, reaching;
    for (order::Point point = 0; point < size; ++point) {
        leaving.push_back(points.sets_off_at(point));
        reaching.push_back(points.points[point].road);
    }
    const std::vector<roads::Milliseconds> times = roads::hierarchy::TravelTable(roads_open).times(leaving, reaching);
    for (order::Point from = 0; from < size; ++from) {
        for (order::Point to = 0; to < size; ++to) {
            const std::size_t cell = std::size_t{from} * size + to;
            if (from == to)
                matrix.seconds[cell] = 0;
            else if (times[cell] < roads::closed && (!points.points[from].cut_off || from == points.start) &&
                     !points.points[to].cut_off)
                matrix.seconds[cell] = static_cast<std::int32_t>(
                    (points.before_setting_off(from) + whole_seconds(times[cell]) + points.points[to].walk.time)
                        .count());
        }
    }
    return matrix;
}

} // namespace routing::shoot
