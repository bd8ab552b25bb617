#include "map_mosaic.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

namespace bench {

namespace roads = routing::roads;

namespace {

constexpr roads::OsmId id_step = 100'000'000'000;

struct Span {
    double south, north, west, east;
};

Span span_of(const roads::OsmExtract& tile) {
    Span span{90.0, -90.0, 180.0, -180.0};
    for (const geo::Coordinate& place : tile.node_places) {
        span.south = std::min(span.south, place.latitude.value);
        span.north = std::max(span.north, place.latitude.value);
        span.west = std::min(span.west, place.longitude.value);
        span.east = std::max(span.east, place.longitude.value);
    }
    return span;
}

/// Main roads' nodes nearest to three points along one side of the tile.
std::vector<roads::OsmId> gates(const roads::OsmExtract& tile, const Span& span, bool vertical, bool high) {
    std::vector<roads::OsmId> found;
    for (const double share : {0.25, 0.5, 0.75}) {
        const double latitude =
            vertical ? span.south + share * (span.north - span.south) : (high ? span.north : span.south);
        const double longitude =
            vertical ? (high ? span.east : span.west) : span.west + share * (span.east - span.west);
        double nearest = std::numeric_limits<double>::max();
        roads::OsmId best = 0;
        for (const roads::RoadWay& way : tile.roads) {
            const std::string_view kind = way.tags["highway"];
            if ((kind != "primary" && kind != "secondary" && kind != "tertiary") || way.tags.has("access"))
                continue;
            for (const roads::OsmId node : way.nodes)
                if (const auto place = tile.place_of(node)) {
                    const double away =
                        std::hypot(place->latitude.value - latitude, place->longitude.value - longitude);
                    if (away < nearest) {
                        nearest = away;
                        best = node;
                    }
                }
        }
        found.push_back(best);
    }
    return found;
}

} // namespace

roads::OsmExtract mosaic(const roads::OsmExtract& tile, int side) {
    const Span span = span_of(tile);
    const double high = span.north - span.south;
    const double wide = span.east - span.west;
    // Around the equator and the zero meridian: a tile's shape changes little there.
    const double south = -0.5 * side * high;
    const double west = -0.5 * side * wide;
    roads::OsmExtract map;
    map.file = "mosaic";
    for (int n = 0; n < side * side; ++n) {
        const roads::OsmId offset = n * id_step;
        const double up = south + (n / side) * high - span.south;
        const double right = west + (n % side) * wide - span.west;
        for (const roads::OsmId id : tile.node_ids)
            map.node_ids.push_back(id + offset);
        for (const geo::Coordinate& place : tile.node_places)
            map.node_places.push_back({{place.latitude.value + up}, {place.longitude.value + right}});
        for (roads::RoadNode node : tile.road_nodes) {
            node.id += offset;
            map.road_nodes.push_back(std::move(node));
        }
        for (roads::RoadWay way : tile.roads) {
            way.id += offset;
            for (roads::OsmId& node : way.nodes)
                node += offset;
            map.roads.push_back(std::move(way));
        }
        for (roads::Restriction restriction : tile.restrictions) {
            restriction.id += offset;
            for (roads::RestrictionMember& member : restriction.members)
                member.object.id += offset;
            map.restrictions.push_back(std::move(restriction));
        }
    }
    roads::OsmId next_way = side * side * id_step;
    for (const bool vertical : {true, false}) {
        const auto from = gates(tile, span, vertical, true);
        const auto to = gates(tile, span, vertical, false);
        for (int n = 0; n < side * side; ++n) {
            if (vertical ? n % side + 1 == side : n / side + 1 == side)
                continue;
            const int neighbour = vertical ? n + 1 : n + side;
            for (std::size_t gate = 0; gate < from.size(); ++gate)
                map.roads.push_back({next_way++,
                                     {from[gate] + n * id_step, to[gate] + neighbour * id_step},
                                     roads::Tags{{{"highway", "primary"}}}});
        }
    }
    return map;
}

} // namespace bench
