#include "routing/shoot/nearby_places.hpp"

#include "geo/input_error.hpp"
#include "routing/roads/hierarchy/travel_table.hpp"
#include "routing/shoot/avoided_roads.hpp"
#include "routing/shoot/closed_roads.hpp"
#include "routing/shoot/parking.hpp"
#include "routing/shoot/stop_points.hpp"

#include <algorithm>
#include <cstdio>
#include <tuple>

namespace routing::shoot {

namespace {

constexpr geo::Metres farthest_from_road{5000.0};

roads::RoadPoint road_at(geo::Coordinate spot, const char* option, const Region& region) {
    if (auto road = region.index.nearest(spot, farthest_from_road))
        return std::move(*road);
    char text[64];
    std::snprintf(text, sizeof text, "%.5f,%.5f", spot.latitude.value, spot.longitude.value);
    throw geo::InputError({{"", option, text, "is over 5 km from any road of " + region.file,
                            "check latitude and longitude, latitude first"}});
}

/// With the roads that the crew would rather not use.
roads::ClosedEdges with_wishes(roads::ClosedEdges shut, const Crew& crew, const roads::RoadNetwork& network) {
    const std::uint16_t notes = avoided_notes(crew);
    shut.resize(network.edges.size(), false);
    for (std::size_t n = 0; n < shut.size(); ++n)
        if ((network.edges[n].notes & notes) != 0)
            shut[n] = true;
    return shut;
}

/// Times from one spot to places and from them to another, over the roads of a metric.
struct Drives {
    std::vector<roads::Milliseconds> there, onward;
    roads::Milliseconds straight = roads::closed;

    Drives(const roads::hierarchy::Metric& metric, const roads::RoadPoint& from, const roads::RoadPoint& then,
           const std::vector<roads::RoadPoint>& places) {
        roads::hierarchy::TravelTable table(metric);
        there = table.times({from}, places);
        onward = table.times(places, {then});
        straight = table.times({from}, {then}).front();
    }
    bool reaches(std::size_t n) const { return there[n] < roads::closed && onward[n] < roads::closed; }
};

} // namespace

geo::Metres farthest_place_from_road(places::PlaceKind kind) {
    return geo::Metres{kind == places::PlaceKind::hospital ? 1000.0 : 300.0};
}

std::string place_id(const places::Place& place) {
    static const char* const types[] = {"node/", "way/", "relation/"};
    return types[static_cast<std::size_t>(place.object.type)] + std::to_string(place.object.id);
}

VanSpot van_spot(const Location& location, const Shoot& shoot, const Region& region) {
    const ClosedRoads shut = close_roads(shoot, {}, region);
    ParkingFinder parking(region, shoot.crew, shut, shoot.ground);
    if (!location.park_at) {
        const auto road = region.index.nearest(location.at, no_walk_below);
        if (road)
            return {road->at};
        const std::vector<StopPoint> choices = parking.choices(location.at);
        if (!choices.empty())
            return {choices.front().road.at, choices.front().walk.time};
    }
    const geo::Coordinate wanted = location.park_at.value_or(location.at);
    const auto road = region.index.nearest(wanted, farthest_from_road);
    if (!road)
        return {wanted};
    return {road->at, parking.stopping_at(*road, location.at).walk.time};
}

Nearby nearby_places(const NearbyWish& wish, const Shoot& shoot, const Region& region) {
    const roads::RoadNetwork& network = *region.network;
    const roads::RoadPoint from = road_at(wish.from, "--near", region);
    const roads::RoadPoint then = wish.then ? road_at(*wish.then, "--then", region) : from;
    const ClosedRoads closures = close_roads(shoot, {}, region);
    const roads::ClosedEdges shut = wish.at ? shut_at(closures, *wish.at, network) : closures.edges;

    Nearby nearby;
    std::vector<std::uint32_t> numbers;
    std::vector<roads::RoadPoint> stands;
    for (std::uint32_t n = 0; n < region.places.size(); ++n) {
        const places::Place& place = region.places[n];
        if (!wish.kinds.empty() && std::find(wish.kinds.begin(), wish.kinds.end(), place.kind) == wish.kinds.end())
            continue;
        if (auto road = region.index.nearest(place.at, farthest_place_from_road(place.kind))) {
            numbers.push_back(n);
            stands.push_back(std::move(*road));
        }
    }
    const roads::hierarchy::Metric open(region.hierarchy, network, shut);
    const Drives any_way(open, from, then, stands);
    if (any_way.straight >= roads::closed)
        throw geo::InputError(
            {{"", wish.then ? "--then" : "--near", "", "is where no open road leads", "look at the shoot's closures"}});
    std::optional<roads::hierarchy::Metric> wished;
    std::optional<Drives> as_wished;
    if (!shoot.crew.avoid.empty()) {
        wished.emplace(region.hierarchy, network, with_wishes(shut, shoot.crew, network));
        as_wished.emplace(*wished, from, then, stands);
    }
    const bool keeps = as_wished && as_wished->straight < roads::closed;
    nearby.straight = whole_seconds(keeps ? as_wished->straight : any_way.straight);

    std::vector<std::pair<NearbyPlace, roads::RoadPoint>> found;
    for (std::size_t n = 0; n < numbers.size(); ++n) {
        if (!any_way.reaches(n)) {
            ++nearby.cut_off;
            continue;
        }
        const bool by_wish = keeps && as_wished->reaches(n);
        const Drives& drives = by_wish ? *as_wished : any_way;
        NearbyPlace place{numbers[n], whole_seconds(drives.there[n])};
        place.detour = std::max(Seconds{0}, place.there + whole_seconds(drives.onward[n]) - nearby.straight);
        place.by_avoided_road = as_wished && !by_wish;
        if (!wish.within || place.there <= *wish.within)
            found.emplace_back(place, stands[n]);
    }
    const auto key = [&](const NearbyPlace& place) {
        return std::tuple{wish.wards_first && !region.places[place.place].emergency, place.detour, place.there,
                          place.place};
    };
    std::sort(found.begin(), found.end(), [&](const auto& a, const auto& b) { return key(a.first) < key(b.first); });
    if (wish.most > 0 && found.size() > wish.most) {
        nearby.more = found.size() - wish.most;
        found.erase(found.begin() + static_cast<std::ptrdiff_t>(wish.most), found.end());
    }
    roads::hierarchy::TravelTable open_paths(open);
    std::optional<roads::hierarchy::TravelTable> wished_paths;
    if (wished)
        wished_paths.emplace(*wished);
    for (auto& [place, road] : found) {
        auto& paths = wished_paths && !place.by_avoided_road ? *wished_paths : open_paths;
        if (const auto path = paths.quickest_path(from, road))
            place.length = path->length;
        nearby.places.push_back(place);
    }
    return nearby;
}

} // namespace routing::shoot
