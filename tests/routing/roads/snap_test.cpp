#include "routing/roads/snap.hpp"

#include "brute_force_snap.hpp"
#include "hand_network.hpp"
#include "routing/roads/round_trip.hpp"
#include "routing/roads/shortest_path.hpp"

#include <doctest/doctest.h>

using namespace geo::literals;
using namespace routing::roads;
using support::HandNetwork;

namespace {

geo::Coordinate at(double latitude, double longitude) {
    return {{latitude}, {longitude}};
}

} // namespace

TEST_CASE("a place moves to the nearest point on a segment, not to the nearest junction") {
    HandNetwork map;
    const auto road = map.road(map.junction(-35.0, -20.0), map.junction(-35.0, -19.9));
    const auto network = map.network();
    const SnapIndex index(network);
    const auto point = index.nearest(at(-35.001, -19.975), 1000.0_m);
    REQUIRE(point);
    CHECK(point->edge == road);
    CHECK(std::abs(point->fraction - 0.25) < 1e-6);
    CHECK(std::abs(point->at.longitude.value - -19.975) < 1e-6);
    // A thousandth of a degree of latitude at 35 degrees is 110.94 m on WGS 84 (meridional radius of curvature 6356.2
    // km, computed from the ellipsoid's axes).
    CHECK(std::abs(point->moved.value - 110.94) < 0.02);
    CHECK_FALSE(point->passed_over_nearer);
}

TEST_CASE("snapping finds nothing beyond the limit, far away, or on an empty map") {
    HandNetwork map;
    map.road(map.junction(-35.0, -20.0), map.junction(-35.0, -19.9));
    const auto network = map.network();
    const SnapIndex index(network);
    CHECK_FALSE(index.nearest(at(-35.01, -19.95), 1000.0_m));
    CHECK(index.nearest(at(-35.01, -19.95), 1200.0_m));
    CHECK_FALSE(index.nearest(at(60.0, 25.0), 40000.0_m));
    CHECK(index.nearest(at(60.0, 25.0), geo::Metres{std::numeric_limits<double>::infinity()}));
    CHECK_FALSE(index.nearest(at(-35.0, -19.95), -1.0_m));
    const RoadNetwork nothing = HandNetwork().network();
    const SnapIndex empty(nothing);
    CHECK_FALSE(empty.nearest(at(0.0, 0.0), 40000.0_m));
    CHECK(empty.nearest_edges(at(0.0, 0.0), 5, 40000.0_m).empty());
    CHECK(empty.edges_within(at(0.0, 0.0), 40000.0_m).empty());
}

TEST_CASE("a place on a junction snaps there without moving, onto a road open both ways") {
    HandNetwork map;
    const auto a = map.junction(-35.0, -20.0);
    const auto b = map.junction(-35.0, -19.99);
    const auto c = map.junction(-35.0, -19.98);
    const auto d = map.junction(-35.01, -19.99);
    map.road(b, d, {.open = support::Ways::forward});
    map.road(d, a);
    const auto two_way = map.road(a, b);
    map.road(b, c);
    const auto network = map.network();
    const auto point = SnapIndex(network).nearest(at(-35.0, -19.99), 100.0_m);
    REQUIRE(point);
    CHECK(point->edge == two_way);
    CHECK(point->fraction == 1.0);
    CHECK(point->moved.value < 1e-6);
    CHECK_FALSE(point->passed_over_nearer);
}

TEST_CASE("snapping passes over roads with no way in or out, and says so") {
    HandNetwork map;
    const auto a = map.junction(-35.0, -20.0);
    const auto b = map.junction(-35.0, -19.95);
    const auto c = map.junction(-35.01, -19.95);
    const auto core = map.road(a, b);
    map.road(b, c);
    map.road(c, a);
    const auto place = at(-34.998, -19.975); // 222 m north of the core road
    const auto e = map.junction(-34.9985, -19.98);
    const auto f = map.junction(-34.9985, -19.97);

    SUBCASE("an island") {
        map.road(e, f);
    }
    SUBCASE("a one-way road that only leaves the core") {
        map.road(a, f, {.open = support::Ways::forward, .between = {at(-34.9985, -19.98)}});
    }
    SUBCASE("a one-way road that only leads into the core") {
        map.road(a, f, {.open = support::Ways::backward, .between = {at(-34.9985, -19.98)}});
    }
    SUBCASE("a road beyond a zone for destination traffic") {
        map.road(a, e, {.destination_only = true});
        map.road(e, f);
    }
    const auto network = map.network();
    const SnapIndex index(network);
    const auto point = index.nearest(place, 1000.0_m);
    REQUIRE(point);
    CHECK(point->edge == core);
    CHECK(point->passed_over_nearer);
    CHECK(std::abs(point->moved.value - 221.9) < 0.1);
    CHECK_FALSE(index.nearest(place, 100.0_m));
    const auto all = index.nearest_edges(place, 1, 1000.0_m);
    REQUIRE(all.size() == 1);
    CHECK(all.front().edge == EdgeIndex{3 + (network.edges.size() == 5 ? 1U : 0U)});
}

TEST_CASE("snapping takes a nearer road that has a way in and out") {
    HandNetwork map;
    const auto a = map.junction(-35.0, -20.0);
    const auto b = map.junction(-35.0, -19.95);
    const auto c = map.junction(-35.01, -19.95);
    map.road(a, b);
    map.road(b, c);
    map.road(c, a);
    const auto e = map.junction(-34.9985, -19.98);
    const auto f = map.junction(-34.9985, -19.97);

    SUBCASE("a dead end") {
        map.road(a, e);
        map.road(e, f);
    }
    SUBCASE("one way through") {
        map.road(a, e, {.open = support::Ways::forward});
        map.road(e, f, {.open = support::Ways::forward});
        map.road(f, b, {.open = support::Ways::forward});
    }
    SUBCASE("a zone for destination traffic") {
        map.road(a, e, {.destination_only = true});
        map.road(e, f, {.destination_only = true});
    }
    SUBCASE("in by one zone and out by another") {
        map.road(a, e, {.open = support::Ways::forward, .destination_only = true});
        map.road(e, f, {.open = support::Ways::forward, .destination_only = true});
        map.road(f, b, {.open = support::Ways::forward, .destination_only = true});
    }
    const auto network = map.network();
    const auto point = SnapIndex(network).nearest(at(-34.998, -19.975), 1000.0_m);
    REQUIRE(point);
    CHECK(point->edge == EdgeIndex{4});
    CHECK_FALSE(point->passed_over_nearer);
}

TEST_CASE("roads closed both ways are no roads for snapping") {
    HandNetwork map;
    const auto a = map.junction(-35.0, -20.0);
    const auto b = map.junction(-35.0, -19.95);
    const auto road = map.road(a, b);
    map.road(map.junction(-34.9985, -19.98), map.junction(-34.9985, -19.97), {.open = support::Ways::none});
    const auto network = map.network();
    const SnapIndex index(network);
    const auto point = index.nearest(at(-34.998, -19.975), 1000.0_m);
    REQUIRE(point);
    CHECK(point->edge == road);
    CHECK_FALSE(point->passed_over_nearer);
    CHECK(index.nearest_edges(at(-34.998, -19.975), 5, 1000.0_m).size() == 1);
    CHECK(index.edges_within(at(-34.998, -19.975), 1000.0_m) == std::vector{road});
}

TEST_CASE("where every road is for destination traffic the whole map is one zone") {
    HandNetwork map;
    map.road(map.junction(-35.0, -20.0), map.junction(-35.0, -19.95), {.destination_only = true});
    const auto network = map.network();
    CHECK(round_trip_edges(network) == std::vector{true});
}

TEST_CASE("on 200 random networks a road counts just when there is a path to it and one back") {
    support::Dice dice(5);
    int counted = 0;
    int left_out = 0;
    for (int round = 0; round < 200; ++round) {
        HandNetwork map;
        const std::uint32_t junctions = 6 + dice.below(12);
        for (std::uint32_t i = 0; i < junctions; ++i)
            map.junction(dice.between(-35.0, -34.9), dice.between(-20.0, -19.9));
        const std::uint32_t roads = junctions + dice.below(junctions / 2);
        for (std::uint32_t i = 0; i < roads; ++i) {
            const auto open = dice.one_in(2) ? support::Ways::forward : support::Ways::both;
            map.road(dice.below(junctions), dice.below(junctions), {.open = open, .destination_only = dice.one_in(3)});
        }
        const auto network = map.network();
        const auto usable = round_trip_edges(network);
        std::uint32_t core = 0;
        while (core < roads && (!usable[core] || network.edges[core].destination_only))
            ++core;
        if (core == roads)
            continue;
        PathFinder finder(network);
        const auto from = support::on(network, EdgeIndex{core}, 0.5);
        for (std::uint32_t edge = 0; edge < roads; ++edge) {
            const auto to = support::on(network, EdgeIndex{edge}, 0.25);
            REQUIRE(usable[edge] == (finder.quickest_path(from, to) && finder.quickest_path(to, from)));
            ++(usable[edge] ? counted : left_out);
        }
    }
    CHECK(counted > 1000);
    CHECK(left_out > 300);
}

TEST_CASE("snapping equals brute force across the 180th meridian, far north and on the equator") {
    for (const auto& [south, west] : {std::pair(-35.0, 179.9), std::pair(83.0, -40.0), std::pair(0.0, -0.1)}) {
        support::Dice dice(11);
        HandNetwork map;
        const auto wrapped = [](double longitude) { return longitude > 180.0 ? longitude - 360.0 : longitude; };
        for (int i = 0; i < 60; ++i)
            map.junction(dice.between(south, south + 0.2), wrapped(dice.between(west, west + 0.2)));
        for (int i = 0; i < 90; ++i)
            map.road(dice.below(60), dice.below(60));
        const auto network = map.network();
        const SnapIndex index(network);
        const support::BruteForceSnap brute_force(network);
        for (int i = 0; i < 300; ++i) {
            const auto place =
                at(dice.between(south - 0.05, south + 0.25), wrapped(dice.between(west - 0.05, west + 0.25)));
            CHECK(brute_force.fault_of(index, place, 5000.0_m) == "");
        }
    }
}
