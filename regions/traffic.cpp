#include "regions/traffic.hpp"

#include "regions/by_roads.hpp"
#include "regions/junctions.hpp"

#include <string_view>
#include <utility>

namespace regions {
namespace {

/// Roughly where a street corner lies, whether or not there is one.
Spot corner_spot(const Village& village, std::pair<int, int> corner) {
    return village.centre + (block_along * (corner.first - village.middle())) * village.along +
           (block_across * corner.second) * village.inland;
}

/// The way that leaves `junction` most nearly towards `target`, cut there.
WayId arm(MapDraft& map, NodeId junction, Spot target) {
    const Spot wanted = unit(target - map.node(junction).at);
    NodeId best = 0;
    double most = -2.0;
    for (const WayId id : map.ways_at(junction)) {
        if (!is_road(map.way(id)))
            continue;
        const auto& list = map.way(id).nodes;
        for (std::size_t i = 0; i < list.size(); ++i) {
            if (list[i] != junction)
                continue;
            for (const bool before : {true, false}) {
                if (before ? i == 0 : i + 1 == list.size())
                    continue;
                const NodeId next = list[before ? i - 1 : i + 1];
                if (const double along = dot(unit(map.node(next).at - map.node(junction).at), wanted); along > most) {
                    most = along;
                    best = next;
                }
            }
        }
    }
    return map.way_between(junction, best);
}

/// A node in the middle of the way of that tag nearest to a spot.
NodeId node_on(MapDraft& map, Spot spot, std::string_view key, std::string_view value) {
    return map.node_on_nearest(
        spot, [&](const Way& way) { return way.tag(std::string(key)) == value; }, 3.0);
}

/// A turn at a street corner: by which arm traffic arrives and which arm the rule speaks of.
struct Turn {
    std::string_view village;
    std::pair<int, int> at;
    std::pair<int, int> from;
    std::pair<int, int> to;
    TagMap tags;
};

std::vector<Turn> turns() {
    return {
        {"Harrobel", {2, 0}, {2, 1}, {1, 0}, {{"restriction", "no_left_turn"}}},
        {"Harrobel", {6, 0}, {6, 1}, {6, -1}, {{"restriction", "only_straight_on"}}},
        {"Harrobel", {7, 0}, {6, 0}, {6, 0}, {{"restriction", "no_u_turn"}}},
        {"Harrobel", {1, 0}, {2, 0}, {1, 1}, {{"restriction", "no_right_turn"}, {"except", "bicycle;bus"}}},
        {"Morvane", {1, 0}, {0, 0}, {1, 1}, {{"restriction", "no_right_turn"}}},
        {"Tessary", {5, 0}, {5, 1}, {4, 0}, {{"restriction:conditional", "no_left_turn @ (Mo-Fr 07:00-09:00)"}}},
        {"Tessary", {1, 0}, {0, 0}, {2, 0}, {{"restriction:hgv", "only_straight_on"}}},
    };
}

} // namespace

void build_roundabouts(MapDraft& map, const std::vector<Village>& villages) {
    const Village& town = village_named(villages, "Harrobel");
    make_roundabout(
        map, town.corners.at({town.middle(), 0}), 16.0,
        {{"highway", "primary"}, {"ref", "O 1"}, {"name", "Oru Anval"}, {"maxspeed", "30"}, {"surface", "asphalt"}});
    const Village& south = village_named(villages, "Morvane");
    make_roundabout(map, south.corners.at({south.middle(), 0}), 13.0,
                    {{"highway", "primary"}, {"ref", "O 1"}, {"oneway", "yes"}, {"surface", "asphalt"}});
}

void put_up_signs(MapDraft& map, const Terrain& terrain) {
    const SightSpots sights = sight_spots(terrain);
    const auto put = [&](Spot near, std::string_view key, std::string_view value, TagMap tags) {
        auto& held = map.node(node_on(map, near, key, value)).tags;
        held.merge(tags);
    };
    put({-1000.0, 5100.0}, "access", "private", {{"barrier", "gate"}});
    put({-8100.0, 8000.0}, "tracktype", "grade3", {{"barrier", "gate"}, {"locked", "yes"}});
    put({-2300.0, -1700.0}, "tracktype", "grade2", {{"barrier", "gate"}});
    put({-3500.0, -3600.0}, "ref", "O 3", {{"barrier", "cattle_grid"}});
    put({11600.0, -4500.0}, "name", "Ask Ovrim", {{"barrier", "lift_gate"}});
    put({14900.0, 500.0}, "name", "Ask Tyrel", {{"barrier", "bollard"}});
    put(sights.quarry + Spot{200.0, 900.0}, "name", "Lorm Fauldrim", {{"barrier", "swing_gate"}});

    // The cove path ends in stairs.
    for (const auto& [id, way] : map.ways()) {
        if (way.tag("highway") != "path" || distance(map.node(way.nodes.back()).at, sights.cove) > 120.0)
            continue;
        std::size_t top = way.nodes.size() - 2;
        while (top > 1 && distance(map.node(way.nodes[top]).at, map.node(way.nodes.back()).at) < 30.0)
            --top;
        const auto stairs = map.split(id, top);
        map.way(stairs.value_or(id)).tags = {
            {"highway", "steps"}, {"step_count", "64"}, {"incline", "down"}, {"handrail", "yes"}};
        break;
    }
}

void restrict_turns(MapDraft& map, const std::vector<Village>& villages) {
    // Twice: a cut for one rule may shorten a way another rule names, so all cuts come before the first rule.
    for (const bool cutting : {true, false}) {
        for (Turn& turn : turns()) {
            const Village& village = village_named(villages, turn.village);
            const NodeId via = village.corners.at(turn.at);
            const WayId from = arm(map, via, corner_spot(village, turn.from));
            const WayId to = arm(map, via, corner_spot(village, turn.to));
            turn.tags["type"] = "restriction";
            if (!cutting)
                map.add_relation({{'w', from, "from"}, {'n', via, "via"}, {'w', to, "to"}}, turn.tags);
        }
        // Round the block and back in the town: a street is the via.
        const Village& town = village_named(villages, "Harrobel");
        const NodeId turn = town.corners.at({1, 1});
        const NodeId back = town.corners.at({0, 1});
        const WayId from = arm(map, turn, corner_spot(town, {1, 0}));
        const WayId to = arm(map, back, corner_spot(town, {0, 0}));
        arm(map, back, corner_spot(town, {1, 1}));
        const WayId via = arm(map, turn, corner_spot(town, {0, 1}));
        if (!cutting)
            map.add_relation({{'w', from, "from"}, {'w', via, "via"}, {'w', to, "to"}},
                             {{"type", "restriction"}, {"restriction", "no_u_turn"}});
        // A rule that lost its "from": the third defect in the region's README.
        const NodeId bare = town.corners.at({3, 0});
        const WayId rest = arm(map, bare, corner_spot(town, {2, 0}));
        if (!cutting)
            map.add_relation({{'n', bare, "via"}, {'w', rest, "to"}},
                             {{"type", "restriction"}, {"restriction", "no_left_turn"}});
    }
}

void leave_defects(MapDraft& map, const std::vector<Village>& villages) {
    // 1. A lane one of whose nodes the extract does not hold.
    const Village& village = village_named(villages, "Pelmary");
    const NodeId root = map.node_on_nearest(village.centre + 900.0 * village.along, is_car_road);
    const Spot outward = village.inland;
    std::vector<NodeId> lane{root};
    for (int i = 1; i <= 5; ++i)
        lane.push_back(map.add_node(map.node(root).at + (60.0 * i) * outward + (4.0 * (i % 3)) * village.along));
    map.node(lane[3]).written = false;
    map.add_way(lane, {{"highway", "service"}, {"name", "Ask Brokna"}, {"surface", "gravel"}});

    // 2. A yard road that joins nothing.
    const Village& other = village_named(villages, "Ombrask");
    const Spot yard = other.centre + 230.0 * other.inland + 500.0 * other.along;
    map.add_way({map.add_node(yard), map.add_node(yard + Spot{70.0, 15.0}), map.add_node(yard + Spot{120.0, 70.0})},
                {{"highway", "service"}, {"service", "driveway"}, {"surface", "concrete"}});
}

} // namespace regions
