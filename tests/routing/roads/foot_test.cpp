#include "routing/roads/foot/foot_network.hpp"
#include "routing/roads/foot/foot_rules.hpp"
#include "routing/roads/foot/walk_finder.hpp"
#include "routing/roads/shortest_path.hpp"
#include "tests/routing/roads/map_text.hpp"

#include "geo/geodesic.hpp"
#include "tests/support/shared_data.hpp"

#include <doctest/doctest.h>

#include <random>

using namespace roads_test;
using namespace std::chrono_literals;

namespace {

roads::WayRuling ruled(std::initializer_list<std::pair<std::string, std::string>> pairs) {
    roads::Remarks remarks;
    return roads::foot::rule_way(tags(pairs), remarks);
}

bool passes(std::initializer_list<std::pair<std::string, std::string>> pairs) {
    roads::Remarks remarks;
    return roads::foot::rule_node(tags(pairs), remarks).access == roads::Access::open;
}

geo::Coordinate at(double latitude, double longitude) {
    return {geo::Degrees{latitude}, geo::Degrees{longitude}};
}

constexpr double hundredth = 1113.195; // metres in 0.01 degrees along the equator: 6378137 m x pi / 18000

} // namespace

TEST_CASE("a class is open on foot unless its page says otherwise") {
    for (const char* highway : {"trunk", "primary", "residential", "service", "track", "footway", "path", "steps",
                                "pedestrian", "bridleway", "cycleway", "platform", "corridor"}) {
        CAPTURE(highway);
        CHECK(ruled({{"highway", highway}}).drivable());
    }
    for (const char* highway : {"motorway", "motorway_link", "busway", "bus_guideway", "raceway", "escape",
                                "via_ferrata", "elevator", "construction", "proposed", "abandoned", "no", "nonsense"}) {
        CAPTURE(highway);
        CHECK_FALSE(ruled({{"highway", highway}}).drivable());
    }
    CHECK_FALSE(ruled({{"highway", "trunk"}, {"motorroad", "yes"}}).drivable());
    CHECK_FALSE(ruled({{"route", "ferry"}, {"foot", "yes"}}).drivable());
    CHECK_FALSE(ruled({{"highway", "construction"}, {"foot", "yes"}}).drivable());
    CHECK(ruled({{"highway", "raceway"}, {"foot", "yes"}}).drivable());
}

TEST_CASE("foot goes before access, and vehicle keys say nothing to walkers") {
    CHECK(ruled({{"highway", "track"}, {"access", "no"}, {"foot", "yes"}}).drivable());
    CHECK_FALSE(ruled({{"highway", "track"}, {"foot", "private"}}).drivable());
    CHECK_FALSE(ruled({{"highway", "track"}, {"access", "private"}}).drivable());
    CHECK_FALSE(ruled({{"highway", "secondary"}, {"foot", "use_sidepath"}}).drivable());
    CHECK_FALSE(ruled({{"highway", "path"}, {"foot", "perhaps"}}).drivable());
    CHECK(ruled({{"highway", "track"}, {"vehicle", "no"}, {"motor_vehicle", "no"}}).drivable());
    CHECK(ruled({{"highway", "path"}, {"access", "forestry;permissive"}}).drivable());
    CHECK((ruled({{"highway", "path"}, {"foot:conditional", "no @ (Nov-May)"}}).notes & roads::note_doubtful_access) !=
          0);
}

TEST_CASE("one-way binds walkers only where it says foot") {
    const auto street = ruled({{"highway", "residential"}, {"oneway", "yes"}});
    CHECK((street.forward && street.backward));
    const auto forward = ruled({{"highway", "footway"}, {"oneway:foot", "yes"}});
    CHECK((forward.forward && !forward.backward));
    const auto backward = ruled({{"highway", "footway"}, {"oneway:foot", "-1"}});
    CHECK((!backward.forward && backward.backward));
    CHECK_FALSE(ruled({{"highway", "footway"}, {"foot:backward", "no"}}).backward);
}

TEST_CASE("steps and mountain paths are slower, harder ones are closed") {
    CHECK(ruled({{"highway", "path"}}).forward_speed.value == doctest::Approx(4.0));
    CHECK(ruled({{"highway", "steps"}}).forward_speed.value == doctest::Approx(1.5));
    CHECK(ruled({{"highway", "path"}, {"sac_scale", "hiking"}}).forward_speed.value == doctest::Approx(4.0));
    CHECK(ruled({{"highway", "path"}, {"sac_scale", "mountain_hiking"}}).forward_speed.value == doctest::Approx(3.0));
    for (const char* scale : {"demanding_mountain_hiking", "alpine_hiking", "difficult_alpine_hiking", "odd"})
        CHECK_FALSE(ruled({{"highway", "path"}, {"sac_scale", scale}}).drivable());
}

TEST_CASE("a walker passes barriers made for vehicles, but not where foot is forbidden") {
    for (const char* barrier : {"gate", "lift_gate", "bollard", "stile", "kissing_gate", "block", "cycle_barrier"})
        CHECK(passes({{"barrier", barrier}}));
    CHECK(passes({{"barrier", "gate"}, {"motor_vehicle", "no"}}));
    CHECK_FALSE(passes({{"barrier", "gate"}, {"access", "private"}}));
    CHECK_FALSE(passes({{"barrier", "gate"}, {"foot", "no"}}));
    CHECK(passes({{"barrier", "gate"}, {"access", "private"}, {"foot", "yes"}}));
    MapText map; // a tag of its own, no barrier: the reader must keep the node
    map.node(1, 0.0, 0.0).node(2, 0.0, 0.01, {{"foot", "no"}}).node(3, 0.0, 0.02);
    map.way(5, {1, 2, 3}, {{"highway", "path"}});
    CHECK_FALSE(drive(roads::foot::build_foot_network(map.read()), 1, 3));
}

TEST_CASE("turn restrictions do not bind walkers") {
    MapText map;
    map.node(1, 0.0, 0.0).node(2, 0.0, 0.01).node(3, 0.0, 0.02);
    map.way(5, {1, 2}, {{"highway", "residential"}}).way(6, {2, 3}, {{"highway", "residential"}});
    map.relation(9, {{"way", 5, "from"}, {"node", 2, "via"}, {"way", 6, "to"}},
                 {{"type", "restriction"}, {"restriction", "no_straight_on"}});
    CHECK_FALSE(drive(map.network(), 1, 3));
    const auto walk = drive(roads::foot::build_foot_network(map.read()), 1, 3);
    REQUIRE(walk);
    CHECK(static_cast<double>(*walk) == doctest::Approx(2.0 * hundredth * 3.6 / 4.0 * 1000.0).epsilon(1e-4));
}

TEST_CASE("a walk in follows the path, and the open ground at both ends counts") {
    MapText map; // a road along the equator, a path north from its middle, hooked
    map.node(1, 0.0, 0.0).node(2, 0.0, 0.01).node(3, 0.0, 0.02).node(4, 0.01, 0.01).node(5, 0.01, 0.0);
    map.way(10, {1, 2, 3}, {{"highway", "primary"}}).way(11, {2, 4, 5}, {{"highway", "path"}});
    const auto paths = roads::foot::build_foot_network(map.read());
    const roads::SnapIndex index(paths);
    const roads::foot::WalkFinder finder(paths, index);
    const auto spot = at(0.011, 0.0); // 110.6 m beyond the path's end
    const auto found = finder.walks(spot, {at(0.0, 0.01), at(0.0, 0.02), at(0.5, 0.5)}, 2h);
    REQUIRE(found[0]);
    REQUIRE(found[1]);
    CHECK_FALSE(found[2]);
    // 0.01 degrees of latitude at the equator are 1105.74 m (WGS 84).
    const double expected = (1105.74 + hundredth + 110.574 / 0.6) * 3.6 / 4.0;
    CHECK(found[0]->time / 1000.0 == doctest::Approx(expected).epsilon(0.001));
    CHECK(found[0]->length.value == doctest::Approx(1105.74 + hundredth + 110.574).epsilon(0.001));
    CHECK(found[1]->time / 1000.0 == doctest::Approx(expected + hundredth * 0.9).epsilon(0.001));
    CHECK(found[0]->line.front() == at(0.0, 0.01));
    CHECK(found[0]->line.back() == spot);
    CHECK_FALSE(finder.walks(spot, {at(0.0, 0.01)}, 30min)[0]); // it takes 36 minutes
}

TEST_CASE("a walk that can't be walked back is none") {
    MapText map;
    map.node(1, 0.0, 0.0).node(2, 0.0, 0.01).node(3, 0.01, 0.01);
    map.way(10, {1, 2}, {{"highway", "primary"}}).way(11, {2, 3}, {{"highway", "path"}, {"oneway:foot", "yes"}});
    const auto paths = roads::foot::build_foot_network(map.read());
    const roads::SnapIndex index(paths);
    CHECK_FALSE(roads::foot::WalkFinder(paths, index).walks(at(0.01, 0.01), {at(0.0, 0.01)}, 2h)[0]);
}

TEST_CASE("walks on real maps take as long as a plain search finds") {
    const auto file = support::shared_data("osm/liechtenstein-2021-05-05.osm.pbf");
    if (!file)
        return;
    const auto paths =
        roads::foot::build_foot_network(roads::read_extract(*file, [](const roads::Tags&) { return false; }));
    const roads::SnapIndex index(paths);
    const roads::foot::WalkFinder finder(paths, index);
    roads::PathFinder plain(paths);
    std::mt19937 random(20);
    int compared = 0;
    for (int round = 0; round < 60; ++round) {
        // Junctions, so that no open ground counts; a walk may still cut across it where places lie close.
        const auto place = [&] { return paths.node_place[random() % paths.node_count()]; };
        const geo::Coordinate spot = place();
        std::vector<geo::Coordinate> vans;
        while (vans.size() < 5)
            if (const auto van = place(); geo::distance(van, spot) < geo::Metres{2500.0})
                vans.push_back(van);
        const auto found = finder.walks(spot, vans, 3h);
        const auto goal = index.nearest_edges(spot, 8, geo::Metres{200.0});
        for (std::size_t n = 0; n < vans.size(); ++n) {
            const auto starts = index.nearest_edges(vans[n], 8, geo::Metres{200.0});
            const auto times = plain.travel_times(starts, goal);
            double best = geo::distance(vans[n], spot).value <= 200.0
                              ? geo::distance(vans[n], spot).value / (0.6 * 4.0 / 3.6)
                              : 1e9;
            for (std::size_t s = 0; s < starts.size(); ++s)
                for (std::size_t g = 0; g < goal.size(); ++g)
                    best = std::min(best, times[s * goal.size() + g] / 1000.0 +
                                              (starts[s].moved.value + goal[g].moved.value) / (0.6 * 4.0 / 3.6));
            if (best > 10800.0) {
                CHECK_FALSE(found[n]);
                continue;
            }
            REQUIRE(found[n]);
            CHECK(std::abs(found[n]->time / 1000.0 - best) < 0.004); // each part is rounded to a millisecond
            ++compared;
        }
    }
    CHECK(compared > 200);
}
