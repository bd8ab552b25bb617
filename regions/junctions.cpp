#include "regions/junctions.hpp"

#include <algorithm>
#include <array>
#include <optional>
#include <set>

namespace regions {
namespace {

/// Two crossing segments of two ways and where.
struct Crossing {
    std::size_t first_segment = 0;
    std::size_t second_segment = 0;
    double first_share = 0.0;
    double second_share = 0.0;
};

std::optional<Crossing> find_crossing(const MapDraft& map, const Way& first, const Way& second) {
    const Line a = map.line_of(first);
    const Line b = map.line_of(second);
    const auto apart = [](Spot p, Spot q, Spot r, Spot s) {
        return std::max(p.east, q.east) < std::min(r.east, s.east) ||
               std::max(r.east, s.east) < std::min(p.east, q.east) ||
               std::max(p.north, q.north) < std::min(r.north, s.north) ||
               std::max(r.north, s.north) < std::min(p.north, q.north);
    };
    for (std::size_t i = 0; i + 1 < a.size(); ++i) {
        for (std::size_t j = 0; j + 1 < b.size(); ++j) {
            if (apart(a[i], a[i + 1], b[j], b[j + 1]))
                continue;
            const std::array<NodeId, 2> mine{first.nodes[i], first.nodes[i + 1]};
            if (std::ranges::find(mine, second.nodes[j]) != mine.end() ||
                std::ranges::find(mine, second.nodes[j + 1]) != mine.end())
                continue;
            Crossing found{i, j, 0.0, 0.0};
            if (segments_cross(a[i], a[i + 1], b[j], b[j + 1], found.first_share, found.second_share))
                return found;
        }
    }
    return std::nullopt;
}

bool boxes_meet(const Line& a, const Line& b) {
    const auto by_east = [](Spot p, Spot q) { return p.east < q.east; };
    const auto by_north = [](Spot p, Spot q) { return p.north < q.north; };
    const auto [a_west, a_east] = std::ranges::minmax(a, by_east);
    const auto [b_west, b_east] = std::ranges::minmax(b, by_east);
    const auto [a_south, a_north] = std::ranges::minmax(a, by_north);
    const auto [b_south, b_north] = std::ranges::minmax(b, by_north);
    return a_west.east <= b_east.east && b_west.east <= a_east.east && a_south.north <= b_north.north &&
           b_south.north <= a_north.north;
}

/// An end of the segment so near the crossing that it serves as the shared node.
std::optional<NodeId> near_end(const MapDraft& map, const Way& way, std::size_t segment, Spot at) {
    constexpr double reach = 1.5;
    for (const std::size_t i : {segment, segment + 1})
        if (distance(map.node(way.nodes[i]).at, at) < reach)
            return way.nodes[i];
    return std::nullopt;
}

NodeId tie(MapDraft& map, WayId first, WayId second, const Crossing& crossing) {
    const Line line = map.line_of(map.way(first));
    const Spot at = between(line[crossing.first_segment], line[crossing.first_segment + 1], crossing.first_share);
    const auto first_end = near_end(map, map.way(first), crossing.first_segment, at);
    const auto second_end = near_end(map, map.way(second), crossing.second_segment, at);
    if (first_end) {
        map.insert_existing(second, crossing.second_segment, *first_end);
        return *first_end;
    }
    if (second_end) {
        map.insert_existing(first, crossing.first_segment, *second_end);
        return *second_end;
    }
    const NodeId shared = map.insert_node(first, crossing.first_segment, at);
    map.insert_existing(second, crossing.second_segment, shared);
    return shared;
}

bool fords(const Way& road) {
    const std::string kind = road.tag("highway");
    return kind == "track" || kind == "path" || kind == "footway" || kind == "bridleway";
}

void build_bridge(MapDraft& map, WayId road, const Crossing& crossing) {
    constexpr double half_span = 9.0;
    const Line line = map.line_of(map.way(road));
    const Spot from = line[crossing.first_segment];
    const Spot to = line[crossing.first_segment + 1];
    const double reach = half_span / distance(from, to);
    const double begin = crossing.first_share - reach;
    const double end = crossing.first_share + reach;
    std::size_t first = crossing.first_segment;
    if (begin > 0.05) {
        map.insert_node(road, first, between(from, to, begin));
        ++first;
    }
    if (end < 0.95)
        map.insert_node(road, first, between(from, to, end));
    map.split(road, first + 1);
    const WayId bridge = map.split(road, first).value_or(road);
    map.way(bridge).tags.insert({{"bridge", "yes"}, {"layer", "1"}});
}

} // namespace

void tie_crossings(MapDraft& map) {
    std::vector<WayId> roads;
    for (const auto& [id, way] : map.ways())
        if (is_road(way) && !way.tags.contains("tunnel"))
            roads.push_back(id);
    for (std::size_t i = 0; i < roads.size(); ++i) {
        for (std::size_t j = i + 1; j < roads.size(); ++j) {
            if (!boxes_meet(map.line_of(map.way(roads[i])), map.line_of(map.way(roads[j]))))
                continue;
            while (const auto crossing = find_crossing(map, map.way(roads[i]), map.way(roads[j])))
                tie(map, roads[i], roads[j], *crossing);
        }
    }
}

void span_streams(MapDraft& map) {
    std::vector<WayId> streams;
    for (const auto& [id, way] : map.ways())
        if (way.tags.contains("waterway"))
            streams.push_back(id);
    for (const WayId water : streams) {
        bool changed = true;
        while (changed) {
            changed = false;
            for (const auto& [id, road] : map.ways()) {
                if (!is_road(road) || road.tags.contains("bridge") || road.tags.contains("tunnel"))
                    continue;
                const auto crossing = find_crossing(map, road, map.way(water));
                if (!crossing)
                    continue;
                if (fords(road)) {
                    map.node(tie(map, id, water, *crossing)).tags["ford"] =
                        road.tag("highway") == "track" ? "yes" : "stepping_stones";
                } else {
                    build_bridge(map, id, *crossing);
                }
                changed = true;
                break; // the list of ways has changed under us
            }
        }
    }
}

WayId make_roundabout(MapDraft& map, NodeId junction, double radius, TagMap tags) {
    // Twelve directions 30 degrees apart, counter-clockwise from east.
    constexpr double half_root_3 = 0.86602540378443864676;
    constexpr std::array<Spot, 12> directions{{{1, 0},
                                               {half_root_3, 0.5},
                                               {0.5, half_root_3},
                                               {0, 1},
                                               {-0.5, half_root_3},
                                               {-half_root_3, 0.5},
                                               {-1, 0},
                                               {-half_root_3, -0.5},
                                               {-0.5, -half_root_3},
                                               {0, -1},
                                               {0.5, -half_root_3},
                                               {half_root_3, -0.5}}};
    const Spot centre = map.node(junction).at;
    std::vector<NodeId> ring;
    for (const Spot direction : directions)
        ring.push_back(map.add_node(centre + radius * direction));

    for (const WayId id : map.ways_at(junction)) {
        const auto& list = map.way(id).nodes;
        const auto at = std::ranges::find(list, junction);
        map.split(id, static_cast<std::size_t>(at - list.begin()));
    }
    std::set<std::size_t> taken;
    for (const WayId id : map.ways_at(junction)) {
        auto& list = map.way(id).nodes;
        NodeId& end = list.front() == junction ? list.front() : list.back();
        const Spot arm = map.node(list.front() == junction ? list[1] : list[list.size() - 2]).at - centre;
        std::size_t best = 0;
        double most = -1e18;
        for (std::size_t i = 0; i < directions.size(); ++i) {
            if (const double towards = dot(directions[i], arm); towards > most && !taken.contains(i)) {
                most = towards;
                best = i;
            }
        }
        taken.insert(best);
        end = ring[best];
    }
    ring.push_back(ring.front());
    tags["junction"] = "roundabout";
    return map.add_way(std::move(ring), std::move(tags));
}

} // namespace regions
