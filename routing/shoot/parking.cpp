#include "routing/shoot/parking.hpp"

#include "geo/geodesic.hpp"
#include "geo/terrain/horizon_cache.hpp"
#include "routing/roads/foot/climb.hpp"
#include "routing/roads/foot/slope_pace.hpp"
#include "routing/roads/foot/walk_finder.hpp"
#include "routing/shoot/avoided_roads.hpp"
#include "routing/shoot/walking_pace.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace routing::shoot {

namespace {

constexpr double straight_line_detour = 1.4;
constexpr double map_pace = roads::foot::flat_pace.value / 3.6; // m/s

// Planning figures of ours, no source.
constexpr std::size_t roads_looked_at = 60;
constexpr std::size_t car_parks_looked_at = 20;
constexpr std::size_t choices_compared = 40;
constexpr std::size_t most_choices = 4;
constexpr geo::Metres car_park_from_road{150.0};
constexpr geo::Metres on_the_road{5.0};
constexpr Seconds choice_is_worth{60};
constexpr Seconds car_park_is_worth{120};

/// Farther than anybody carries kit: what is not found by then is taken as not there.
constexpr Seconds longest_known{6 * 3600};

/// No walk of that time leads farther, as the crow flies.
geo::Metres farthest(Seconds at_map_pace) {
    return geo::Metres{static_cast<double>(at_map_pace.count()) * map_pace};
}

/// What the crew walks in, in the time the foot network is counted in.
Seconds longest_at_map_pace(const Crew& crew) {
    constexpr roads::Milliseconds hour = 3'600'000;
    const double crew_hour = static_cast<double>(walking_time(hour, crew.load_kg).count());
    return Seconds{std::llround(std::floor(static_cast<double>(Seconds{crew.max_walk}.count()) * 3600.0 / crew_hour))};
}

bool is_car_park(const places::Place& place) {
    return place.kind == places::PlaceKind::parking || place.kind == places::PlaceKind::trailhead;
}

} // namespace

struct ParkingFinder::Candidate {
    roads::RoadPoint road;
    std::string car_park{};
    std::optional<roads::foot::Walk> walk{};
    Seconds time{0};

    bool is_car_park() const { return !car_park.empty(); }
};

StopPoint with_estimated_walk(geo::Coordinate at, roads::RoadPoint road) {
    StopPoint point{at, std::move(road)};
    const geo::Metres straight = geo::distance(at, point.road.at);
    if (straight >= no_walk_below) {
        point.walk.length = straight * straight_line_detour;
        point.walk.time = Seconds{std::llround(std::ceil(point.walk.length.value / map_pace))};
        point.walk_back = point.walk.time;
        point.estimated = true;
    }
    return point;
}

ParkingFinder::ParkingFinder(const Region& region, const Crew& crew, const ClosedRoads& shut,
                             std::shared_ptr<geo::terrain::HorizonCache> ground)
    : region_(region), crew_(crew), shut_(shut), ground_(std::move(ground)) {}

ParkingFinder::~ParkingFinder() = default;

roads::foot::WalkFinder& ParkingFinder::walks() {
    if (!walks_) {
        if (ground_)
            slopes_ = std::make_unique<roads::foot::SlopePace>(region_.foot->network(), ground_->sheet());
        walks_ = std::make_unique<roads::foot::WalkFinder>(region_.foot->network(), region_.foot->index(), shut_.foot,
                                                           slopes_.get());
    }
    return *walks_;
}

bool ParkingFinder::may_stop(const roads::RoadPoint& road) const {
    const roads::Edge& edge = region_.network->edges[roads::value(road.edge)];
    return !edge.no_stopping && (edge.notes & roads::note_ferry) == 0 &&
           (shut_.edges.empty() || !shut_.edges[roads::value(road.edge)]) && region_.index.is_round_trip(road.edge);
}

StopPoint ParkingFinder::stopping_at(const roads::RoadPoint& road, geo::Coordinate spot) {
    StopPoint estimated = with_estimated_walk(spot, road);
    if (!estimated.estimated)
        return estimated;
    if (const auto walk = walks().walks(spot, {road.at}, longest_known).front())
        return stop_with(spot, road, *walk);
    if (!shut_.foot.empty())
        estimated.cut_off = roads::foot::WalkFinder(region_.foot->network(), region_.foot->index())
                                .walks(spot, {road.at}, longest_known)
                                .front()
                                .has_value();
    return estimated;
}

StopPoint ParkingFinder::stop_with(geo::Coordinate spot, const roads::RoadPoint& road,
                                   const roads::foot::Walk& walk) const {
    StopPoint point{spot, road};
    point.walk.time = walking_time(walk.time, crew_.load_kg);
    point.walk.length = walk.length;
    point.walk.line = walk.line;
    if (ground_)
        point.walk.climb = roads::foot::climb_along(walk.line, ground_->sheet());
    point.walk.notes = walk.notes;
    point.walk_back = walking_time(walk.time_back, crew_.load_kg);
    return point;
}

std::vector<ParkingFinder::Candidate> ParkingFinder::candidates_near(geo::Coordinate spot) const {
    constexpr double quickest_downhill = 1.2; // Tobler: 6 km/h at best, 5.04 on the level
    const geo::Metres radius = farthest(longest_at_map_pace(crew_)) * (ground_ ? quickest_downhill : 1.0);
    std::vector<Candidate> found;
    for (roads::RoadPoint& road : region_.index.nearest_edges(spot, roads_looked_at, radius))
        if (may_stop(road))
            found.push_back({std::move(road)});
    std::vector<std::pair<double, const places::Place*>> car_parks;
    for (const places::Place& place : region_.places)
        if (is_car_park(place))
            if (const geo::Metres away = geo::distance(spot, place.at); away <= radius)
                car_parks.emplace_back(away.value, &place);
    std::sort(car_parks.begin(), car_parks.end(), [](const auto& a, const auto& b) {
        return std::tie(a.first, a.second->object) < std::tie(b.first, b.second->object);
    });
    car_parks.resize(std::min(car_parks.size(), car_parks_looked_at));
    for (const auto& [away, place] : car_parks)
        if (const auto road = region_.index.nearest(place->at, car_park_from_road); road && may_stop(*road))
            found.push_back({*road, place->name});
    return found;
}

/// A walk found from the road point nearest by air often runs along the road first: where it leaves the road the van
/// can wait just as well.
void ParkingFinder::add_where_path_begins(std::vector<Candidate>& found, geo::Coordinate spot) {
    std::vector<geo::Coordinate> places;
    for (const Candidate& candidate : found) {
        if (!candidate.walk)
            continue;
        const auto& line = candidate.walk->line;
        // From the spot back towards the van: the first point on a road.
        for (auto point = line.rbegin(); point != line.rend(); ++point) {
            const auto road = region_.index.nearest(*point, on_the_road);
            if (!road || !may_stop(*road))
                continue;
            if (std::find(places.begin(), places.end(), road->at) == places.end()) {
                places.push_back(road->at);
                found.push_back({*road});
            }
            break;
        }
        if (places.size() >= roads_looked_at)
            break;
    }
    const auto begun = walks().walks(spot, places, longest_at_map_pace(crew_));
    for (std::size_t n = 0; n < places.size(); ++n)
        found[found.size() - places.size() + n].walk = begun[n];
}

std::vector<StopPoint> ParkingFinder::choices(geo::Coordinate spot) {
    std::vector<Candidate> found = candidates_near(spot);
    std::vector<geo::Coordinate> places;
    for (const Candidate& candidate : found)
        places.push_back(candidate.road.at);
    const auto walked = walks().walks(spot, places, longest_at_map_pace(crew_));
    for (std::size_t n = 0; n < found.size(); ++n)
        found[n].walk = walked[n];
    found.reserve(2 * found.size()); // adding while it goes over them
    add_where_path_begins(found, spot);
    std::erase_if(found, [](const Candidate& candidate) { return !candidate.walk; });
    for (Candidate& candidate : found)
        candidate.time = walking_time(candidate.walk->time, crew_.load_kg);
    std::erase_if(found, [&](const Candidate& candidate) { return candidate.time > crew_.max_walk; });
    std::sort(found.begin(), found.end(), [](const Candidate& a, const Candidate& b) {
        return std::tuple{a.time, !a.is_car_park(), a.road.edge, a.road.fraction} <
               std::tuple{b.time, !b.is_car_park(), b.road.edge, b.road.fraction};
    });
    found.resize(std::min(found.size(), choices_compared));

    if (!metric_)
        metric_ = std::make_unique<const roads::hierarchy::Metric>(region_.hierarchy, *region_.network, shut_.edges);
    std::vector<roads::RoadPoint> stands;
    for (const Candidate& candidate : found)
        stands.push_back(candidate.road);
    const auto drive = roads::hierarchy::TravelTable(*metric_).times(stands, stands);
    const auto driving = [&](std::size_t from, std::size_t to) {
        return std::chrono::milliseconds{drive[from * found.size() + to]};
    };
    const std::uint16_t avoided = avoided_notes(crew_);
    const auto is_avoided = [&](std::size_t n) {
        return (region_.network->edges[roads::value(found[n].road.edge)].notes & avoided) != 0;
    };
    const auto beats = [&](std::size_t k, std::size_t c) {
        if (is_avoided(k) && !is_avoided(c))
            return false; // it may turn out shut
        const Seconds least_gain =
            found[k].is_car_park() && !found[c].is_car_park() ? car_park_is_worth : choice_is_worth;
        return driving(c, k) + found[k].time <= found[c].time + least_gain &&
               driving(k, c) + found[k].time <= found[c].time + least_gain;
    };
    std::vector<std::size_t> kept;
    const auto beaten = [&](std::size_t c) {
        return std::any_of(kept.begin(), kept.end(), [&](std::size_t k) { return beats(k, c); });
    };
    // Car parks first: one of two that beat each other is the car park.
    for (const bool car_parks : {true, false})
        for (std::size_t c = 0; c < found.size(); ++c)
            if (found[c].is_car_park() == car_parks && !beaten(c))
                kept.push_back(c);
    std::vector<std::size_t> best;
    for (const std::size_t c : kept)
        if (std::none_of(kept.begin(), kept.end(), [&](std::size_t k) {
                return k != c && !found[k].is_car_park() && found[c].is_car_park() && beats(k, c);
            }))
            best.push_back(c);
    std::sort(best.begin(), best.end());
    best.resize(std::min(best.size(), most_choices));

    std::vector<StopPoint> choices;
    for (const std::size_t c : best) {
        choices.push_back(stop_with(spot, found[c].road, *found[c].walk));
        choices.back().car_park = found[c].car_park;
    }
    return choices;
}

} // namespace routing::shoot
