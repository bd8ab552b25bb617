#include "routing/roads/shortest_path.hpp"

#include "dice.hpp"
#include "hand_network.hpp"
#include "path_walk.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace routing::roads;
using support::HandNetwork;
using support::on;

namespace {

/// "3+ 5- 1+": edges in order of driving, + in drawing order.
std::string route(const std::optional<Path>& path) {
    if (!path)
        return "none";
    std::string text;
    for (const PathPiece& piece : path->pieces)
        text += (text.empty() ? "" : " ") + std::to_string(value(piece.edge)) + (piece.forward ? "+" : "-");
    return text;
}

Milliseconds time_of(const std::optional<Path>& path) {
    return path ? path->time : closed;
}

} // namespace

TEST_CASE("times of the parts of an edge add up to its crossing time") {
    support::Dice dice(7);
    for (int i = 0; i < 1000; ++i) {
        const Milliseconds crossing = 1 + dice.below(100000);
        std::vector<double> cuts{0.0, dice.share(), dice.share(), dice.share(), 1.0};
        std::sort(cuts.begin(), cuts.end());
        Milliseconds sum = 0;
        for (std::size_t cut = 1; cut < cuts.size(); ++cut)
            sum += time_to_fraction(crossing, cuts[cut]) - time_to_fraction(crossing, cuts[cut - 1]);
        CHECK(sum == crossing);
    }
}

TEST_CASE("both points on one edge") {
    HandNetwork map;
    const auto a = map.junction(-35.0, -20.0);
    const auto b = map.junction(-35.0, -20.01);
    const auto c = map.junction(-35.01, -20.005);

    SUBCASE("are joined along it, forward and back") {
        const auto road = map.road(a, b, {.seconds = 100});
        const auto network = map.network();
        const auto there = quickest_path(network, on(network, road, 0.25), on(network, road, 0.75));
        CHECK(route(there) == "0+");
        CHECK(time_of(there) == 50000);
        const auto back = quickest_path(network, on(network, road, 0.75), on(network, road, 0.25));
        CHECK(route(back) == "0-");
        CHECK(time_of(back) == 50000);
    }
    SUBCASE("need the way round when the second lies behind the first on a one-way road") {
        const auto road = map.road(a, b, {.seconds = 100, .open = support::Ways::forward});
        map.road(b, c, {.seconds = 10});
        map.road(c, a, {.seconds = 10});
        const auto network = map.network();
        const auto path = quickest_path(network, on(network, road, 0.75), on(network, road, 0.25));
        CHECK(route(path) == "0+ 1+ 2+ 0+");
        CHECK(time_of(path) == 25000 + 10000 + 10000 + 25000);
    }
    SUBCASE("are not joined when a one-way road offers no way round") {
        const auto road = map.road(a, b, {.open = support::Ways::forward});
        const auto network = map.network();
        CHECK(route(quickest_path(network, on(network, road, 0.75), on(network, road, 0.25))) == "none");
        CHECK(route(quickest_path(network, on(network, road, 0.25), on(network, road, 0.75))) == "0+");
    }
    SUBCASE("are joined by another road when that is quicker") {
        const auto slow = map.road(a, b, {.seconds = 1000});
        map.road(a, b, {.seconds = 10});
        const auto network = map.network();
        const auto path = quickest_path(network, on(network, slow, 0.05), on(network, slow, 0.95));
        CHECK(route(path) == "0- 1+ 0-");
        CHECK(time_of(path) == 50000 + 10000 + 50000);
    }
    SUBCASE("that are one point make a path of no length and no time, shut or not") {
        const auto road = map.road(a, b, {.open = support::Ways::forward});
        const auto network = map.network();
        for (const bool shut : {false, true}) {
            const auto path = quickest_path(network, on(network, road, 0.5), on(network, road, 0.5), {shut});
            REQUIRE(path);
            CHECK(path->pieces.empty());
            CHECK(path->time == 0);
            CHECK(path_line(network, *path).empty());
            CHECK(road_stretches(network, *path).empty());
        }
    }
}

TEST_CASE("a loop road is driven round either way") {
    HandNetwork map;
    const auto a = map.junction(-35.0, -20.0);
    const auto b = map.junction(-35.0, -20.01);
    const auto stem = map.road(a, b, {.seconds = 10});
    const auto loop = map.road(b, b, {.seconds = 100, .between = {{{-35.01}, {-20.01}}, {{-35.01}, {-20.02}}}});
    const auto network = map.network();
    CHECK(time_of(quickest_path(network, on(network, stem, 0.0), on(network, loop, 0.2))) == 30000);
    const auto path = quickest_path(network, on(network, stem, 0.0), on(network, loop, 0.8));
    CHECK(route(path) == "0+ 1-");
    CHECK(time_of(path) == 30000);
    CHECK(route(quickest_path(network, on(network, loop, 0.1), on(network, loop, 0.9))) == "1- 1-");
}

TEST_CASE("a forbidden turn costs the way round") {
    //   w
    //   |
    // a-j-b   from a no turn to w; round by b, c, w
    //     |
    HandNetwork map;
    const auto a = map.junction(-35.0, -20.0);
    const auto j = map.junction(-35.0, -19.99);
    const auto b = map.junction(-35.0, -19.98);
    const auto w = map.junction(-34.99, -19.99);
    const auto west = map.road(a, j);
    const auto north = map.road(j, w);
    const auto east = map.road(j, b);
    const auto round = map.road(b, w, {.seconds = 200});
    map.forbid(west, j, north);
    map.forbid(east, j, east);
    map.forbid(round, b, round);

    SUBCASE("when the road on can't be turned in") {
        map.forbid(east, b, east);
        const auto network = map.network();
        CHECK(route(quickest_path(network, on(network, west, 0.5), on(network, north, 0.5))) == "0+ 2+ 3+ 1-");
    }
    SUBCASE("or turning at the next junction, where that is free") {
        const auto network = map.network();
        CHECK(route(quickest_path(network, on(network, west, 0.5), on(network, north, 0.5))) == "0+ 2+ 2- 1+");
    }
    SUBCASE("but binds only who comes from there") {
        const auto network = map.network();
        CHECK(route(quickest_path(network, on(network, east, 0.5), on(network, north, 0.5))) == "2- 1+");
        CHECK(route(quickest_path(network, on(network, north, 0.5), on(network, west, 0.5))) == "1- 0-");
        // A stop on the road itself is a fresh start in either direction.
        CHECK(route(quickest_path(network, on(network, west, 1.0), on(network, east, 0.5))) == "2+");
    }
}

TEST_CASE("destination-only road opens or ends a path but is never crossed") {
    // a --short-- b: zone in the middle; a ------ b long way open
    HandNetwork map;
    const auto a = map.junction(-35.0, -20.0);
    const auto b = map.junction(-35.0, -19.97);
    const auto m = map.junction(-35.0, -19.98);
    const auto n = map.junction(-35.0, -19.99);
    const auto before = map.junction(-35.0, -20.01);
    const auto after = map.junction(-35.0, -19.96);
    const auto start = map.road(before, a, {.seconds = 10});
    const auto zone_1 = map.road(a, m, {.seconds = 10, .destination_only = true});
    const auto zone_2 = map.road(m, n, {.seconds = 10, .destination_only = true});
    const auto zone_3 = map.road(n, b, {.seconds = 10, .destination_only = true});
    const auto end = map.road(b, after, {.seconds = 10});
    const auto long_way = map.road(a, b, {.seconds = 500});
    const auto network = map.network();
    CHECK(route(quickest_path(network, on(network, start, 0.5), on(network, end, 0.5))) == "0+ 5+ 4+");
    CHECK(route(quickest_path(network, on(network, start, 0.5), on(network, zone_2, 0.5))) == "0+ 1+ 2+");
    CHECK(route(quickest_path(network, on(network, zone_2, 0.5), on(network, end, 0.5))) == "2+ 3+ 4+");
    CHECK(route(quickest_path(network, on(network, zone_1, 0.5), on(network, zone_3, 0.5))) == "1+ 2+ 3+");
    // Out of the zone, along the open road and in again at the far end is legal: zone at both ends only.
    ClosedEdges shut(network.edges.size(), false);
    shut[value(zone_2)] = true;
    CHECK(route(quickest_path(network, on(network, zone_1, 0.5), on(network, zone_3, 0.5), shut)) == "1- 5+ 3-");
    // Without the open road the far side can't be reached at all.
    shut[value(zone_2)] = false;
    shut[value(long_way)] = true;
    CHECK(route(quickest_path(network, on(network, start, 0.5), on(network, end, 0.5), shut)) == "none");
    CHECK(route(quickest_path(network, on(network, start, 0.5), on(network, zone_3, 0.5), shut)) == "0+ 1+ 2+ 3+");
}

TEST_CASE("of two edges between the same junctions the quicker is taken, and the other when it is shut") {
    HandNetwork map;
    const auto a = map.junction(-35.0, -20.0);
    const auto b = map.junction(-35.0, -19.99);
    const auto c = map.junction(-35.0, -19.98);
    const auto first = map.road(a, b, {.seconds = 30});
    const auto quick = map.road(b, c, {.seconds = 20});
    const auto slow = map.road(b, c, {.seconds = 40, .between = {{{-35.01}, {-19.985}}}});
    const auto last = map.road(c, map.junction(-35.0, -19.97));
    const auto network = map.network();
    const auto from = on(network, first, 0.5);
    const auto to = on(network, last, 0.5);
    CHECK(route(quickest_path(network, from, to)) == "0+ 1+ 3+");
    ClosedEdges shut(network.edges.size(), false);
    shut[value(quick)] = true;
    const auto path = quickest_path(network, from, to, shut);
    CHECK(route(path) == "0+ 2+ 3+");
    CHECK(path_line(network, *path).size() == 5);
    shut[value(slow)] = true;
    CHECK(route(quickest_path(network, from, to, shut)) == "none");
    CHECK(travel_times(network, {from}, {to, from}, shut) == std::vector<Milliseconds>{closed, 0});
}

TEST_CASE("a point on a shut road can't be left or reached") {
    HandNetwork map;
    const auto a = map.junction(-35.0, -20.0);
    const auto b = map.junction(-35.0, -19.99);
    const auto first = map.road(a, b);
    const auto second = map.road(b, map.junction(-35.0, -19.98));
    const auto network = map.network();
    const ClosedEdges shut{true, false};
    CHECK_FALSE(quickest_path(network, on(network, first, 0.5), on(network, second, 0.5), shut));
    CHECK_FALSE(quickest_path(network, on(network, second, 0.5), on(network, first, 0.5), shut));
    CHECK_FALSE(quickest_path(network, on(network, first, 0.5), on(network, first, 0.6), shut));
}

TEST_CASE("points at the ends of edges leave no pieces of no length") {
    HandNetwork map;
    const auto a = map.junction(-35.0, -20.0);
    const auto b = map.junction(-35.0, -19.99);
    const auto c = map.junction(-35.0, -19.98);
    const auto first = map.road(a, b, {.seconds = 30});
    const auto second = map.road(b, c, {.seconds = 40});
    const auto network = map.network();
    const auto path = quickest_path(network, on(network, first, 1.0), on(network, second, 1.0));
    CHECK(route(path) == "1+");
    CHECK(time_of(path) == 40000);
    const auto nothing = quickest_path(network, on(network, first, 1.0), on(network, second, 0.0));
    REQUIRE(nothing);
    CHECK(nothing->pieces.empty());
    CHECK(nothing->time == 0);
}

TEST_CASE("a path's line runs through the shape points driven and none twice") {
    HandNetwork map;
    const auto a = map.junction(-35.0, 179.99);
    const auto b = map.junction(-35.0, -179.99);
    const geo::Coordinate bend{{-35.001}, {179.995}};
    const auto first = map.road(a, b, {.between = {bend}});
    const auto second = map.road(b, map.junction(-35.0, -179.98));
    const auto network = map.network();
    const auto path = quickest_path(network, on(network, second, 0.5), on(network, first, 0.0));
    REQUIRE(path);
    const auto line = path_line(network, *path);
    REQUIRE(line.size() == 4);
    CHECK(std::abs(line[0].longitude.value - -179.985) < 1e-9);
    CHECK(line[1] == geo::Coordinate{{-35.0}, {-179.99}});
    CHECK(line[2] == bend);
    CHECK(line[3] == geo::Coordinate{{-35.0}, {179.99}});
    // A point in mid-segment across the 180th meridian keeps to the short side.
    const auto across = point_on_edge(network, first, 0.9).longitude.value;
    CHECK(std::abs(across) > 179.9);
}

TEST_CASE("road names are merged while they stay, and short unnamed links take the name before") {
    HandNetwork map;
    std::vector<OsmId> along;
    for (int i = 0; i < 8; ++i)
        along.push_back(map.junction(-35.0, -20.0 + i * 0.01));
    const auto near = map.junction(-35.0, -20.0 + 3 * 0.01 + 0.0002); // some 18 m on
    map.road(along[0], along[1], {.seconds = 10, .name = "Ridge Road"});
    map.road(along[1], along[2], {.seconds = 20, .name = "Ridge Road", .notes = note_gate});
    map.road(along[2], along[3], {.seconds = 30, .name = "Mill Lane"});
    map.road(along[3], near, {.seconds = 5, .notes = note_toll});
    map.road(near, along[4], {.seconds = 40, .name = "Mill Lane"});
    map.road(along[4], along[5], {.seconds = 50});
    const auto last = map.road(along[5], along[6], {.seconds = 60, .name = "Ridge Road"});
    const auto network = map.network();
    const auto path = quickest_path(network, on(network, EdgeIndex{0}, 0.5), on(network, last, 0.5));
    REQUIRE(path);
    const auto stretches = road_stretches(network, *path);
    REQUIRE(stretches.size() == 4);
    CHECK(stretches[0].name == "Ridge Road");
    CHECK(stretches[0].time == 25000);
    CHECK(stretches[0].notes == note_gate);
    CHECK(stretches[1].name == "Mill Lane");
    CHECK(stretches[1].time == 75000);
    CHECK(stretches[1].notes == note_toll);
    CHECK(stretches[2].name.empty());
    CHECK(stretches[3].name == "Ridge Road");
    CHECK(stretches[3].notes == note_none);

    // At the very start a short link joins the road after it.
    const auto from_link = quickest_path(network, on(network, EdgeIndex{3}, 0.0), on(network, last, 1.0));
    REQUIRE(from_link);
    CHECK(road_stretches(network, *from_link).front().name == "Mill Lane");
    CHECK(road_stretches(network, *from_link).front().time == 45000);
}

TEST_CASE("paths and tables on 150 random networks equal an edge-based Dijkstra and can be driven") {
    support::Dice dice(20240501);
    int found = 0;
    int missing = 0;
    int zoned = 0;
    int turned_away = 0;
    for (int round = 0; round < 150; ++round) {
        HandNetwork map;
        const unsigned junctions = 4 + dice.below(16);
        for (unsigned i = 0; i < junctions; ++i)
            map.junction(dice.between(-35.0, -34.9), dice.between(-20.0, -19.9));
        const unsigned roads = junctions + dice.below(2 * junctions);
        for (unsigned i = 0; i < roads; ++i) {
            const auto open = dice.one_in(3) ? (dice.one_in(2) ? support::Ways::forward : support::Ways::backward)
                                             : support::Ways::both;
            map.road(dice.below(junctions), dice.below(junctions),
                     {.seconds = dice.between(1.0, 70.0), .open = open, .destination_only = dice.one_in(4)});
        }
        const support::EdgeEnds ends = support::edge_ends(map.network());
        for (unsigned i = 0; i < roads; ++i) {
            const EdgeIndex from{dice.below(roads)};
            const EdgeIndex to{dice.below(roads)};
            for (const OsmId at : {ends[value(from)].first, ends[value(from)].second})
                if (at == ends[value(to)].first || at == ends[value(to)].second)
                    map.forbid(from, at, to);
        }
        const auto network = map.network();
        ClosedEdges shut;
        if (dice.one_in(2)) {
            shut.assign(network.edges.size(), false);
            shut[dice.below(roads)] = true;
        }
        std::vector<RoadPoint> points;
        for (int i = 0; i < 12; ++i) {
            const double fractions[] = {0.0, 1.0, 0.25, dice.share()};
            points.push_back(on(network, EdgeIndex{dice.below(roads)}, fractions[dice.below(4)]));
        }
        const auto rules = map.rules();
        const support::TurnRules no_rules;
        support::EdgeBasedReference reference(network, rules, shut);
        support::EdgeBasedReference without_bans(network, no_rules, shut);
        PathFinder finder(network);
        const auto table = finder.travel_times(points, points, shut);
        for (std::size_t i = 0; i < points.size(); ++i)
            for (std::size_t j = 0; j < points.size(); ++j) {
                const auto path = finder.quickest_path(points[i], points[j], shut);
                const auto expected = reference.quickest(points[i], points[j]);
                REQUIRE(time_of(path) == expected.value_or(closed));
                REQUIRE(table[i * points.size() + j] == expected.value_or(closed));
                if (!path) {
                    ++missing;
                    continue;
                }
                ++found;
                zoned += std::any_of(path->pieces.begin(), path->pieces.end(), [&](const PathPiece& piece) {
                    return network.edges[value(piece.edge)].destination_only;
                });
                turned_away += without_bans.quickest(points[i], points[j]) != expected;
                REQUIRE(support::fault_of(network, rules, points[i], points[j], *path, shut) == "");
            }
    }
    // The networks are worth the name: all kinds of answers occur.
    CHECK(found > 5000);
    CHECK(missing > 1000);
    CHECK(zoned > 500);
    CHECK(turned_away > 200);
}
