#include "dice.hpp"
#include "hand_network.hpp"

#include "routing/roads/foot/walk_finder.hpp"
#include "routing/roads/strong_components.hpp"
#include "tests/support/near.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace geo::literals;
using namespace routing::roads;
using foot::Walk;
using foot::WalkFinder;
using support::Dice;
using support::HandNetwork;
using support::HandRoad;
using support::near;

namespace {

constexpr geo::Seconds long_enough{100'000};
constexpr double path_metres_per_second = 4.0 / 3.6;
constexpr double off_path_metres_per_second = 2.4 / 3.6;

RoadNetwork with_parts(RoadNetwork network) {
    std::vector<std::uint32_t> heads;
    for (const Arc& arc : network.arcs)
        heads.push_back(value(arc.head));
    Components parts = strong_components(network.first_arc, heads);
    network.component = std::move(parts.of_node);
    network.component_size = std::move(parts.size);
    return network;
}

/// Seconds at 4 km/h between two places on a plane near the equator; good enough for an invented path.
double walking_seconds(double south, double west, double north, double east) {
    return std::hypot(north - south, east - west) * 111'300.0 / path_metres_per_second;
}

/// A path of 2 km eastwards on the equator.
struct OnePath {
    RoadNetwork network;
    SnapIndex index;
    WalkFinder finder;

    explicit OnePath(support::Ways open = support::Ways::both)
        : network(drawn(open)), index(network), finder(network, index) {}

    static RoadNetwork drawn(support::Ways open) {
        HandNetwork map;
        const auto a = map.junction(0.0, 0.0);
        const auto b = map.junction(0.0, 0.01);
        const auto c = map.junction(0.0, 0.02);
        map.road(a, b, {.seconds = 1000.0});
        map.road(b, c, {.seconds = 1000.0, .open = open});
        map.road(c, b, {.seconds = 5000.0, .between = {{{0.01}, {0.015}}}});
        return with_parts(map.network());
    }
    std::optional<Walk> walk(geo::Coordinate from, geo::Coordinate spot, geo::Seconds limit = long_enough) {
        return finder.walks(spot, {from}, limit).front();
    }
};

double metres(geo::Coordinate a, geo::Coordinate b) {
    return distance(a, b).value;
}

/// A random grid of paths, some missing, some one-way, in one strong component.
RoadNetwork random_paths(Dice& dice) {
    constexpr int side = 6;
    for (;;) {
        HandNetwork map;
        std::vector<std::pair<double, double>> places;
        for (int i = 0; i < side * side; ++i) {
            places.emplace_back(0.002 * (i / side) + dice.between(-0.0005, 0.0005),
                                0.002 * (i % side) + dice.between(-0.0005, 0.0005));
            map.junction(places.back().first, places.back().second);
        }
        const auto path = [&](int a, int b) {
            if (dice.one_in(8))
                return;
            const auto [south, west] = places[static_cast<std::size_t>(a)];
            const auto [north, east] = places[static_cast<std::size_t>(b)];
            HandRoad drawn;
            drawn.seconds = walking_seconds(south, west, north, east) * dice.between(1.0, 2.0);
            drawn.open = dice.one_in(6) ? support::Ways::forward : support::Ways::both;
            if (dice.one_in(2))
                map.road(a, b, drawn);
            else
                map.road(b, a, drawn);
        };
        for (int row = 0; row < side; ++row)
            for (int column = 0; column < side; ++column) {
                if (column + 1 < side)
                    path(row * side + column, row * side + column + 1);
                if (row + 1 < side)
                    path(row * side + column, (row + 1) * side + column);
            }
        RoadNetwork network = with_parts(map.network());
        if (network.component_size.size() == 1)
            return network;
    }
}

/// Somewhere up to 30 m beside the inner part of a random path.
geo::Coordinate beside_a_path(const RoadNetwork& network, Dice& dice) {
    const EdgeIndex edge{dice.below(static_cast<std::uint32_t>(network.edges.size()))};
    geo::Coordinate place = point_on_edge(network, edge, dice.between(0.2, 0.8));
    place.latitude.value += dice.between(-0.0002, 0.0002);
    place.longitude.value += dice.between(-0.0002, 0.0002);
    return place;
}

} // namespace

TEST_CASE("within 30 m of the spot the walk is a straight line at 4 km/h, with or without paths") {
    OnePath map;
    const geo::Coordinate from{0.5_deg, 0.5_deg};
    const geo::Coordinate spot{0.5_deg, 0.5002_deg};
    const auto walk = map.walk(from, spot);
    REQUIRE(walk);
    CHECK(walk->line == std::vector<geo::Coordinate>{from, spot});
    CHECK(near(walk->length, geo::Metres{metres(from, spot)}, 0.01_m));
    CHECK(walk->time == doctest::Approx(1000.0 * metres(from, spot) / path_metres_per_second).epsilon(1e-3));
    const auto none_at_all = map.walk(from, from);
    REQUIRE(none_at_all);
    CHECK(none_at_all->time == 0);
    CHECK(none_at_all->line.size() == 1);
}

TEST_CASE("a walk goes straight to the nearest path, along it, and straight to the spot, slower off the path") {
    OnePath map;
    const geo::Coordinate from{0.001_deg, 0.001_deg};
    const geo::Coordinate spot{-0.0015_deg, 0.009_deg};
    const auto walk = map.walk(from, spot);
    REQUIRE(walk);
    const geo::Coordinate leaves{0.0_deg, 0.001_deg};
    const geo::Coordinate joins{0.0_deg, 0.009_deg};
    const double off_path = metres(from, leaves) + metres(joins, spot);
    CHECK(walk->time == doctest::Approx(800'000.0 + 1000.0 * off_path / off_path_metres_per_second).epsilon(1e-4));
    CHECK(near(walk->length, geo::Metres{off_path + metres(leaves, joins)}, 0.1_m));
    REQUIRE(walk->line.size() == 4);
    CHECK(walk->line.front() == from);
    CHECK(metres(walk->line[1], leaves) < 0.01);
    CHECK(metres(walk->line[2], joins) < 0.01);
    CHECK(walk->line.back() == spot);
}

TEST_CASE("two places that share their nearest point of a path meet there") {
    OnePath map;
    const auto walk = map.walk({0.001_deg, 0.005_deg}, {-0.001_deg, 0.005_deg});
    REQUIRE(walk);
    CHECK(walk->line.size() == 3);
    CHECK(near(walk->length, geo::Metres{metres({0.001_deg, 0.005_deg}, {-0.001_deg, 0.005_deg})}, 0.01_m));
}

TEST_CASE("farther from any path than is walked straight there is no walk") {
    OnePath map;
    CHECK(map.walk({-0.0017_deg, 0.001_deg}, {0.0_deg, 0.005_deg}));
    CHECK_FALSE(map.walk({-0.0019_deg, 0.001_deg}, {0.0_deg, 0.005_deg}));
    CHECK_FALSE(map.walk({0.0_deg, 0.005_deg}, {-0.0019_deg, 0.001_deg}));
}

TEST_CASE("a walk longer than the limit is none, one of just that length is") {
    OnePath map;
    const geo::Coordinate from{0.0_deg, 0.001_deg};
    const geo::Coordinate spot{0.0_deg, 0.009_deg};
    CHECK(map.walk(from, spot, geo::Seconds{800}));
    CHECK_FALSE(map.walk(from, spot, geo::Seconds{799}));
    CHECK_FALSE(map.walk(from, {0.0_deg, 0.0012_deg}, geo::Seconds{10}));
    CHECK_FALSE(map.walk(from, from, geo::Seconds{-1}));
}

TEST_CASE("a one-way path is walked its way only, so out and back differ") {
    OnePath map(support::Ways::forward);
    const geo::Coordinate west{0.0_deg, 0.005_deg};
    const geo::Coordinate east{0.0_deg, 0.015_deg};
    const auto out = map.walk(west, east);
    const auto back = map.walk(east, west);
    REQUIRE(out);
    REQUIRE(back);
    CHECK(out->time == 1'000'000);
    CHECK(back->time == 500'000 + 5'000'000 + 500'000);
}

TEST_CASE("an unjoined scrap of path beside the spot does not hide the path that leads there") {
    HandNetwork map;
    map.road(map.junction(0.0, 0.0), map.junction(0.0, 0.01), {.seconds = 1000.0});
    map.road(map.junction(0.0, 0.01), map.junction(0.0, 0.011), {.seconds = 100.0});
    const auto scrap = map.junction(0.0005, 0.0051);
    map.road(scrap, map.junction(0.0005, 0.0052), {.seconds = 10.0});
    const RoadNetwork network = with_parts(map.network());
    REQUIRE(network.component_size.size() == 3);
    const SnapIndex index(network);
    WalkFinder finder(network, index);
    const geo::Coordinate spot{0.0005_deg, 0.00515_deg};
    const auto walks = finder.walks(spot, {{0.0_deg, 0.001_deg}}, long_enough);
    REQUIRE(walks.front());
    CHECK(near(walks.front()->length, geo::Metres{(0.00415 + 0.0005) * 111'319.49}, 2.0_m));
}

TEST_CASE("on random paths walks are as long as the path search says, plus the stretches to the paths") {
    Dice dice(2024);
    int walked = 0;
    for (int round = 0; round < 40; ++round) {
        const RoadNetwork network = random_paths(dice);
        const SnapIndex index(network);
        WalkFinder finder(network, index);
        PathFinder paths(network);
        for (int question = 0; question < 5; ++question) {
            const geo::Coordinate spot = beside_a_path(network, dice);
            const auto end = index.nearest(spot, routing::roads::foot::longest_off_path);
            REQUIRE(end);
            std::vector<geo::Coordinate> from;
            for (int i = 0; i < 10; ++i)
                from.push_back(beside_a_path(network, dice));
            const geo::Seconds limit{dice.below(3000)};
            const auto walks = finder.walks(spot, from, limit);
            const auto all = finder.walks(spot, from, long_enough);
            for (std::size_t i = 0; i < from.size(); ++i) {
                if (metres(from[i], spot) <= 30.0)
                    continue;
                const auto start = index.nearest(from[i], routing::roads::foot::longest_off_path);
                REQUIRE(start);
                const auto path = paths.quickest_path(*start, *end);
                REQUIRE(path);
                REQUIRE(all[i]);
                const auto stretch = [](const RoadPoint& point) {
                    return std::llround(point.moved.value * 1000.0 / off_path_metres_per_second);
                };
                CHECK(all[i]->time == path->time + stretch(*start) + stretch(*end));
                CHECK(near(all[i]->length, path->length + start->moved + end->moved, 0.01_m));
                CHECK(near(line_length(all[i]->line), all[i]->length, 0.1_m));
                CHECK(all[i]->line.front() == from[i]);
                CHECK(all[i]->line.back() == spot);
                CHECK(walks[i].has_value() == (all[i]->time <= limit.count() * 1000));
                if (walks[i]) {
                    ++walked;
                    CHECK(walks[i]->time == all[i]->time);
                    CHECK(walks[i]->line == all[i]->line);
                }
            }
        }
    }
    CHECK(walked > 500);
}
