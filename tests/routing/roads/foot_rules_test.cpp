#include "tests/routing/roads/map_text.hpp"

#include "routing/roads/foot/foot_network.hpp"
#include "routing/roads/foot/foot_rules.hpp"
#include "routing/roads/line_length.hpp"
#include "tests/support/near.hpp"

#include <doctest/doctest.h>

using namespace roads_test;
using namespace geo::literals;
using routing::roads::Access;
using routing::roads::Remarks;
using routing::roads::WayRuling;
using routing::roads::foot::build_foot_network;
using support::near;

namespace {

WayRuling rule(const Pairs& pairs) {
    Remarks remarks;
    return routing::roads::foot::rule_way_on_foot(roads::Tags{pairs}, remarks);
}

/// "both", "forward", "backward" or "closed".
std::string open_ways(const Pairs& pairs) {
    const WayRuling ruling = rule(pairs);
    return ruling.forward ? (ruling.backward ? "both" : "forward") : (ruling.backward ? "backward" : "closed");
}

bool says(const Pairs& pairs, std::uint16_t note) {
    return (rule(pairs).notes & note) != 0;
}

std::string first_remark(const Pairs& pairs) {
    Remarks remarks;
    routing::roads::foot::rule_way_on_foot(roads::Tags{pairs}, remarks);
    return remarks.empty() ? "" : std::string(remarks.front());
}

bool has_pace(const Pairs& pairs, double kilometres_per_hour) {
    const WayRuling ruling = rule(pairs);
    return near(ruling.forward_speed, geo::KilometresPerHour{kilometres_per_hour}, geo::KilometresPerHour{1e-9}) &&
           ruling.forward_speed == ruling.backward_speed;
}

routing::roads::NodeRuling node(const Pairs& pairs) {
    Remarks remarks;
    return routing::roads::foot::rule_node_on_foot(roads::Tags{pairs}, remarks);
}

/// Nodes 1 to 3 in a row eastwards, 111 m apart, on two paths.
MapText two_paths(const Pairs& middle_node, const Pairs& path = {{"highway", "path"}}) {
    MapText map;
    map.node(1, 0.0, 0.001).node(2, 0.0, 0.002, middle_node).node(3, 0.0, 0.003);
    map.way(11, {1, 2}, path).way(12, {2, 3}, path);
    return map;
}

} // namespace

TEST_CASE("walkers may use the listed classes of ways") {
    // OSM wiki, "OSM tags for routing/Access restrictions".
    for (const char* open : {"trunk", "primary_link", "tertiary", "residential", "living_street", "service", "track",
                             "pedestrian", "footway", "path", "steps", "corridor", "platform", "bridleway", "cycleway"})
        CHECK_MESSAGE(open_ways({{"highway", open}}) == "both", open);
    for (const char* shut : {"motorway", "motorway_link", "busway", "bus_guideway", "raceway", "escape", "via_ferrata",
                             "elevator", "construction", "proposed", "abandoned", "rest_area", "dragon"})
        CHECK_MESSAGE(open_ways({{"highway", shut}}) == "closed", shut);
    CHECK(first_remark({{"highway", "dragon"}}) == "ways of a class not known: closed");
    CHECK(first_remark({{"highway", "via_ferrata"}}) == "ways of a class nobody may walk");
}

TEST_CASE("bridleways and cycleways are walked in doubt, unless a tag speaks") {
    CHECK(says({{"highway", "cycleway"}}, routing::roads::note_doubtful_access));
    CHECK_FALSE(says({{"highway", "cycleway"}, {"foot", "yes"}}, routing::roads::note_doubtful_access));
    CHECK(open_ways({{"highway", "bridleway"}, {"foot", "no"}}) == "closed");
}

TEST_CASE("a road for motors only has no walkers, unless foot says so") {
    // OSM wiki, Key:motorroad.
    CHECK(open_ways({{"highway", "trunk"}, {"motorroad", "yes"}}) == "closed");
    CHECK(open_ways({{"highway", "trunk"}, {"motorroad", "yes"}, {"access", "yes"}}) == "closed");
    CHECK(open_ways({{"highway", "trunk"}, {"motorroad", "yes"}, {"foot", "yes"}}) == "both");
    CHECK(open_ways({{"highway", "busway"}, {"foot", "designated"}}) == "both");
    CHECK(open_ways({{"highway", "busway"}, {"access", "yes"}}) == "closed");
    CHECK(open_ways({{"highway", "construction"}, {"foot", "yes"}}) == "closed");
}

TEST_CASE("foot goes before access, and keys of vehicles say nothing") {
    CHECK(open_ways({{"highway", "service"}, {"access", "private"}}) == "closed");
    CHECK(open_ways({{"highway", "service"}, {"access", "private"}, {"foot", "yes"}}) == "both");
    CHECK(open_ways({{"highway", "service"}, {"access", "yes"}, {"foot", "private"}}) == "closed");
    for (const char* key : {"vehicle", "motor_vehicle", "motorcar", "bicycle", "goods"})
        CHECK(open_ways({{"highway", "track"}, {key, "no"}}) == "both");
}

TEST_CASE("each access value opens or closes the way to walkers") {
    for (const char* open : {"yes", "designated", "permissive", "official", "destination", "customers", "discouraged"})
        CHECK_MESSAGE(open_ways({{"highway", "path"}, {"foot", open}}) == "both", open);
    for (const char* shut : {"no", "private", "use_sidepath", "delivery", "forestry", "military", "maybe"})
        CHECK_MESSAGE(open_ways({{"highway", "path"}, {"foot", shut}}) == "closed", shut);
    CHECK_FALSE(rule({{"highway", "path"}, {"access", "destination"}}).destination_only);
    CHECK(open_ways({{"highway", "residential"}, {"sidewalk", "separate"}}) == "both");
    CHECK(says({{"highway", "path"}, {"foot", "discouraged"}}, routing::roads::note_doubtful_access));
}

TEST_CASE("a condition on walkers is a doubt when it can't be proved, and closes when it can't be read") {
    const Pairs by_night{{"highway", "path"}, {"foot:conditional", "no @ (22:00-06:00)"}};
    CHECK(open_ways(by_night) == "both");
    CHECK(says(by_night, routing::roads::note_doubtful_access));
    CHECK(open_ways({{"highway", "path"}, {"foot:conditional", "no at night"}}) == "closed");
    // A sign for lorries is none for walkers.
    const Pairs lorries{{"highway", "track"}, {"access:conditional", "no @ (weight>3.5)"}};
    CHECK(open_ways(lorries) == "both");
    CHECK_FALSE(says(lorries, routing::roads::note_doubtful_access));
}

TEST_CASE("walkers heed one-ways of their own only") {
    CHECK(open_ways({{"highway", "residential"}, {"oneway", "yes"}}) == "both");
    CHECK(open_ways({{"highway", "residential"}, {"junction", "roundabout"}}) == "both");
    CHECK(open_ways({{"highway", "path"}, {"oneway:foot", "yes"}}) == "forward");
    CHECK(open_ways({{"highway", "path"}, {"oneway:foot", "-1"}}) == "backward");
    CHECK(open_ways({{"highway", "path"}, {"oneway", "yes"}, {"oneway:foot", "no"}}) == "both");
    CHECK(open_ways({{"highway", "path"}, {"foot:backward", "no"}}) == "forward");
    CHECK(open_ways({{"highway", "path"}, {"access", "no"}, {"foot:forward", "yes"}}) == "forward");
}

TEST_CASE("pace is 4 km/h, 1.5 on steps, three quarters of it on mountain paths") {
    CHECK(has_pace({{"highway", "path"}}, 4.0));
    CHECK(has_pace({{"highway", "primary"}, {"maxspeed", "100"}}, 4.0));
    CHECK(has_pace({{"highway", "steps"}}, 1.5));
    CHECK(has_pace({{"highway", "path"}, {"sac_scale", "hiking"}}, 4.0));
    CHECK(has_pace({{"highway", "path"}, {"sac_scale", "mountain_hiking"}}, 3.0));
    CHECK(has_pace({{"highway", "path"}, {"sac_scale", "hiking;mountain_hiking"}}, 3.0));
    CHECK(says({{"highway", "steps"}}, routing::roads::note_steps));
    CHECK_FALSE(says({{"highway", "path"}}, routing::roads::note_steps));
}

TEST_CASE("paths harder than mountain hiking, or of a grade not understood, are closed") {
    for (const char* hard : {"demanding_mountain_hiking", "alpine_hiking", "demanding_alpine_hiking",
                             "difficult_alpine_hiking", "mountain_hiking;alpine_hiking"})
        CHECK_MESSAGE(open_ways({{"highway", "path"}, {"sac_scale", hard}}) == "closed", hard);
    CHECK(first_remark({{"highway", "path"}, {"sac_scale", "alpine_hiking"}}) ==
          "paths harder than mountain hiking: closed");
    CHECK(open_ways({{"highway", "path"}, {"sac_scale", "T9"}}) == "closed");
    CHECK(first_remark({{"highway", "path"}, {"sac_scale", "T9"}}) == "hiking grades not understood: path closed");
}

TEST_CASE("a path that is hard to see is not for darkness") {
    for (const char* hidden : {"bad", "horrible", "no"})
        CHECK(says({{"highway", "path"}, {"trail_visibility", hidden}}, routing::roads::note_not_in_darkness));
    for (const char* seen : {"excellent", "good", "intermediate"})
        CHECK_FALSE(says({{"highway", "path"}, {"trail_visibility", seen}}, routing::roads::note_not_in_darkness));
}

TEST_CASE("areas are walked only where they may be squares") {
    CHECK(open_ways({{"highway", "pedestrian"}, {"area", "yes"}}) == "both");
    CHECK(open_ways({{"highway", "footway"}, {"area", "yes"}}) == "both");
    CHECK(open_ways({{"highway", "service"}, {"area", "yes"}}) == "closed");
    CHECK(open_ways({{"highway", "platform"}, {"area", "yes"}}) == "closed");
}

TEST_CASE("fords are waded with a note, and ferries and winter roads left out") {
    CHECK(says({{"highway", "track"}, {"ford", "yes"}}, routing::roads::note_ford));
    CHECK(says({{"highway", "path"}, {"ford", "stepping_stones"}}, routing::roads::note_ford));
    CHECK(open_ways({{"highway", "track"}, {"ford", "boat"}}) == "closed");
    CHECK(open_ways({{"route", "ferry"}, {"foot", "yes"}}) == "closed");
    CHECK(first_remark({{"route", "ferry"}}) == "ferries: not part of a walk");
    CHECK(open_ways({{"highway", "track"}, {"ice_road", "yes"}}) == "closed");
}

TEST_CASE("opening hours of a path are a doubt") {
    CHECK(says({{"highway", "path"}, {"opening_hours", "09:00-17:00"}}, routing::roads::note_doubtful_access));
}

TEST_CASE("each kind of barrier lets walkers through or not") {
    // OSM wiki, Key:barrier and its values' pages.
    for (const char* open :
         {"gate", "lift_gate", "swing_gate", "stile", "kissing_gate", "turnstile", "horse_stile", "bollard", "block",
          "chain", "cycle_barrier", "jersey_barrier", "log", "debris", "wall", "fence", "hedge", "kerb", "entrance"})
        CHECK_MESSAGE(node({{"barrier", open}}).access == Access::open, open);
    for (const char* shut : {"yes", "dragon"})
        CHECK_MESSAGE(node({{"barrier", shut}}).access == Access::forbidden, shut);
}

TEST_CASE("a barrier's own keys win, and a locked gate is a note") {
    CHECK(node({{"barrier", "gate"}, {"access", "private"}}).access == Access::forbidden);
    CHECK(node({{"barrier", "gate"}, {"access", "private"}, {"foot", "yes"}}).access == Access::open);
    CHECK(node({{"barrier", "gate"}, {"motor_vehicle", "no"}}).access == Access::open);
    CHECK(node({{"barrier", "gate"}, {"access", "customers"}}).access == Access::open);
    CHECK(node({{"barrier", "dragon"}, {"foot", "yes"}}).access == Access::open);
    CHECK(node({{"barrier", "gate"}, {"locked", "yes"}}).access == Access::open);
    CHECK(node({{"barrier", "gate"}, {"locked", "yes"}}).notes == routing::roads::note_gate);
    CHECK(node({{"barrier", "gate"}}).notes == routing::roads::note_none);
    CHECK(node({{"foot", "no"}}).access == Access::forbidden);
    CHECK(node({{"highway", "crossing"}, {"foot", "no"}}).access == Access::open);
}

TEST_CASE("walkers lose no time at lights, gates and stop signs") {
    for (const Pairs& tags : {Pairs{{"highway", "traffic_signals"}}, Pairs{{"highway", "stop"}},
                              Pairs{{"barrier", "gate"}}, Pairs{{"railway", "level_crossing"}}}) {
        CHECK(node(tags).signals.forward == geo::Seconds{0});
        CHECK(node(tags).other.backward == geo::Seconds{0});
    }
}

TEST_CASE("the foot network takes a path's length at 4 km/h, over a bollard the van stops at") {
    const Pairs street{{"highway", "residential"}};
    const auto map = two_paths({{"barrier", "bollard"}}, street);
    const auto paths = build_foot_network(map.read());
    const double metres = routing::roads::ground_distance({0.0_deg, 0.001_deg}, {0.0_deg, 0.003_deg}).value;
    const auto time = drive(paths, 1, 3);
    REQUIRE(time);
    CHECK(static_cast<double>(*time) / 1000.0 == doctest::Approx(metres * 3.6 / 4.0).epsilon(1e-4));
    CHECK(drive(paths, 3, 1) == time);
    CHECK_FALSE(drive(map.network(), 1, 3));
    CHECK(count_of(paths, "ways open to walkers") == 2);
}

TEST_CASE("nodes with foot=no alone are read and stop walkers, not the van") {
    const auto map = two_paths({{"foot", "no"}}, {{"highway", "residential"}});
    CHECK_FALSE(drive(build_foot_network(map.read()), 1, 3));
    CHECK(drive(map.network(), 1, 3));
}

TEST_CASE("one-ways and turn restrictions of the roads do not bind walkers") {
    auto map = two_paths({}, {{"highway", "residential"}, {"oneway", "yes"}});
    map.relation(21, {{"way", 11, "from"}, {"node", 2, "via"}, {"way", 12, "to"}},
                 {{"type", "restriction"}, {"restriction", "no_straight_on"}});
    const auto paths = build_foot_network(map.read());
    CHECK_FALSE(drive(map.network(), 1, 3));
    CHECK(drive(paths, 1, 3));
    CHECK(drive(paths, 3, 1));
    CHECK(paths.node_count() == 3);
    CHECK(paths.component_size == std::vector<std::uint32_t>{3});
}

TEST_CASE("an island reached by ferry is a component of its own on foot") {
    MapText map;
    map.node(1, 0.0, 0.001).node(2, 0.0, 0.002).node(3, 0.0, 0.003).node(4, 0.0, 0.004).node(5, 0.0, 0.005);
    map.way(11, {1, 2, 3}, {{"highway", "path"}, {"name", "Shore Path"}}).way(12, {3, 4}, {{"route", "ferry"}});
    map.way(13, {4, 5}, {{"highway", "steps"}});
    const auto paths = build_foot_network(map.read());
    CHECK(paths.component_size.size() == 2);
    CHECK_FALSE(drive(paths, 1, 5));
    REQUIRE(paths.edges.size() == 2);
    const bool shore_first = paths.edges[0].way == 11;
    const auto& shore = paths.edges[shore_first ? 0 : 1];
    const auto& steps = paths.edges[shore_first ? 1 : 0];
    CHECK(paths.name_of(shore) == "Shore Path");
    CHECK(paths.shape_of(shore).size() == 3);
    CHECK(steps.notes == routing::roads::note_steps);
}
