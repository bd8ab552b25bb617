#include "routing/places/same_place.hpp"

#include "geo/local_frame.hpp"

#include <algorithm>
#include <cmath>

namespace routing::places {

namespace {

using geo::Coordinate;
using geo::Degrees;
using roads::Feature;
using roads::OsmType;

/// Calls `visit(a, b)` for each side of each ring; a ring left open is closed.
template <class Visit>
void for_each_side(const std::vector<Coordinate>& outline, Visit visit) {
    std::size_t ring = 0;
    for (std::size_t i = 1; i < outline.size(); ++i) {
        visit(outline[i - 1], outline[i]);
        if (outline[i] == outline[ring])
            ring = ++i; // the side from here to the next ring is none
    }
    if (ring < outline.size() && outline.back() != outline[ring])
        visit(outline.back(), outline[ring]);
}

/// How far the outline reaches from Feature::at.
struct Reach {
    double latitude = 0.0;
    double longitude = 0.0;
};

Reach reach_of(const Feature& feature, geo::Metres margin) {
    Reach reach;
    for (const Coordinate corner : feature.outline) {
        reach.latitude = std::max(reach.latitude, std::abs((corner.latitude - feature.at.latitude).value));
        reach.longitude = std::max(reach.longitude,
                                   std::abs(geo::longitude_difference(feature.at.longitude, corner.longitude).value));
    }
    const geo::LocalFrame frame(feature.at);
    const geo::LocalPoint degree =
        frame.from({feature.at.latitude + Degrees{1.0}, feature.at.longitude + Degrees{1.0}});
    // Twice the margin: the reach is a first sieve, and a degree shortens towards the pole.
    reach.latitude += 2.0 * margin.value / degree.north.value;
    reach.longitude += degree.east.value > 1.0 ? 2.0 * margin.value / degree.east.value : 360.0;
    return reach;
}

/// `point_of` seen as a point, `area` as an area or node.
bool is_same_place(const Feature& point_of, const Feature& area, Closeness closeness) {
    if (lies_inside(point_of.at, area))
        return true;
    if (closeness == Closeness::inside)
        return false;
    const bool a_node = point_of.object.type == OsmType::node || area.object.type == OsmType::node;
    return a_node && distance_to(point_of.at, area) <= beside;
}

} // namespace

bool lies_inside(Coordinate point, const Feature& area) {
    if (std::find(area.outline.begin(), area.outline.end(), point) != area.outline.end())
        return true;
    const geo::LocalFrame frame(point);
    bool inside = false;
    for_each_side(area.outline, [&](Coordinate from, Coordinate to) {
        const geo::LocalPoint a = frame.from(from);
        const geo::LocalPoint b = frame.from(to);
        if ((a.north.value > 0.0) == (b.north.value > 0.0))
            return;
        const double fraction = a.north.value / (a.north - b.north).value;
        if ((a.east + (b.east - a.east) * fraction).value > 0.0)
            inside = !inside;
    });
    return inside;
}

geo::Metres distance_to(Coordinate point, const Feature& feature) {
    const geo::LocalFrame frame(point);
    const geo::LocalPoint here{};
    if (feature.outline.empty())
        return geo::distance(here, frame.from(feature.at));
    geo::Metres nearest = geo::distance(here, frame.from(feature.outline.front()));
    for_each_side(feature.outline, [&](Coordinate from, Coordinate to) {
        nearest = std::min(nearest, geo::nearest_on_segment(here, frame.from(from), frame.from(to)).distance);
    });
    return nearest;
}

std::vector<std::pair<std::size_t, std::size_t>> same_place_pairs(const std::vector<const Feature*>& features,
                                                                  Closeness closeness) {
    std::vector<std::size_t> northward(features.size());
    for (std::size_t i = 0; i < features.size(); ++i)
        northward[i] = i;
    const auto latitude = [&](std::size_t i) { return features[i]->at.latitude.value; };
    std::sort(northward.begin(), northward.end(),
              [&](std::size_t a, std::size_t b) { return std::pair(latitude(a), a) < std::pair(latitude(b), b); });

    std::vector<std::pair<std::size_t, std::size_t>> pairs;
    const geo::Metres margin = closeness == Closeness::inside ? geo::Metres{0.0} : beside;
    for (std::size_t area = 0; area < features.size(); ++area) {
        const Feature& outer = *features[area];
        if (outer.outline.empty() && closeness == Closeness::inside)
            continue;
        const Reach reach = reach_of(outer, margin);
        const auto from = std::lower_bound(northward.begin(), northward.end(), latitude(area) - reach.latitude,
                                           [&](std::size_t i, double limit) { return latitude(i) < limit; });
        for (auto it = from; it != northward.end() && latitude(*it) <= latitude(area) + reach.latitude; ++it) {
            const Feature& inner = *features[*it];
            const Degrees apart = geo::longitude_difference(outer.at.longitude, inner.at.longitude);
            if (*it == area || std::abs(apart.value) > reach.longitude || !is_same_place(inner, outer, closeness))
                continue;
            pairs.emplace_back(area, *it);
            pairs.emplace_back(*it, area);
        }
    }
    std::sort(pairs.begin(), pairs.end());
    pairs.erase(std::unique(pairs.begin(), pairs.end()), pairs.end());
    return pairs;
}

} // namespace routing::places
