#include "routing/shoot/nearest_ward.hpp"

#include "routing/roads/hierarchy/travel_table.hpp"
#include "routing/shoot/closed_roads.hpp"
#include "routing/shoot/nearby_places.hpp"
#include "routing/shoot/plan.hpp"
#include "routing/shoot/stop_points.hpp"

#include <algorithm>

namespace routing::shoot {

namespace {

constexpr geo::Metres van_on_road{5.0};

struct Ward {
    const places::Place* place;
    roads::RoadPoint road;
};

std::vector<Ward> wards_of(const Region& region) {
    std::vector<Ward> wards;
    for (const places::Place& place : region.places)
        if (place.emergency)
            if (auto road = region.index.nearest(place.at, farthest_place_from_road(place.kind)))
                wards.push_back({&place, std::move(*road)});
    return wards;
}

/// The first stop at each location.
std::vector<const PlanStop*> stops_to_tell(const Plan& plan) {
    std::vector<const PlanStop*> stops;
    for (const PlanDay& day : plan.days)
        for (const PlanStop& stop : day.stops)
            if (stop.kind == PlanStopKind::scene && std::none_of(stops.begin(), stops.end(), [&](const PlanStop* told) {
                    return told->name == stop.name && told->at == stop.at;
                }))
                stops.push_back(&stop);
    return stops;
}

} // namespace

std::vector<NearestWard> nearest_wards(const Plan& plan, const Shoot& shoot, const Region& region) {
    const std::vector<const PlanStop*> stops = stops_to_tell(plan);
    std::vector<NearestWard> nearest;
    for (const PlanStop* stop : stops)
        nearest.push_back({.from = stop->name});
    const std::vector<Ward> wards = wards_of(region);
    if (wards.empty() || stops.empty())
        return nearest;
    const roads::hierarchy::Metric metric(region.hierarchy, *region.network,
                                          close_roads(shoot, plan.closures, region).edges);
    roads::hierarchy::TravelTable table(metric);
    std::vector<roads::RoadPoint> to;
    for (const Ward& ward : wards)
        to.push_back(ward.road);
    for (std::size_t n = 0; n < stops.size(); ++n) {
        const auto from = region.index.nearest(stops[n]->van_at, van_on_road);
        if (!from)
            continue;
        const std::vector<roads::Milliseconds> times = table.times({*from}, to);
        const auto best = static_cast<std::size_t>(std::min_element(times.begin(), times.end()) - times.begin());
        if (times[best] >= roads::closed)
            continue;
        const places::Place& place = *wards[best].place;
        const auto path = table.quickest_path(*from, to[best]);
        nearest[n] = {stops[n]->name,
                      true,
                      place_id(place),
                      place.name,
                      place.phone,
                      place.at,
                      whole_seconds(times[best]),
                      path ? path->length : geo::Metres{0.0}};
    }
    return nearest;
}

} // namespace routing::shoot
