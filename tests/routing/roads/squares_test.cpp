#include "tests/routing/roads/map_text.hpp"

#include "routing/roads/foot/foot_network.hpp"
#include "routing/roads/line_length.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

using namespace roads_test;
using routing::roads::RoadNetwork;
using routing::roads::foot::build_foot_network;

namespace {

const Pairs square{{"highway", "pedestrian"}, {"area", "yes"}, {"name", "Market"}};
const Pairs street{{"highway", "residential"}};

/// Links and rim pieces of a way.
std::size_t edges_of(const RoadNetwork& network, roads::OsmId way) {
    std::size_t count = 0;
    for (const roads::Edge& edge : network.edges)
        count += edge.way == way ? 1 : 0;
    return count;
}

/// Seconds of the straight line between two places at 4 km/h.
double straight(double south, double west, double north, double east) {
    return routing::roads::ground_distance({{south}, {west}}, {{north}, {east}}).value * 3.6 / 4.0;
}

double seconds(std::optional<std::uint64_t> milliseconds) {
    REQUIRE(milliseconds);
    return static_cast<double>(*milliseconds) / 1000.0;
}

/// Corners 1 to 4 round from the south-west, 111 m a side; a street from each of `entries`.
MapText market(const Pairs& tags, const std::vector<roads::OsmId>& entries = {1, 2, 3, 4}) {
    MapText map;
    map.node(1, 0.0, 0.0).node(2, 0.0, 0.001).node(3, 0.001, 0.001).node(4, 0.001, 0.0);
    map.way(9, {1, 2, 3, 4, 1}, tags);
    for (const roads::OsmId entry : entries) {
        map.node(10 + entry, entry <= 2 ? -0.001 : 0.002, entry == 1 || entry == 4 ? -0.001 : 0.002);
        map.way(20 + entry, {entry, 10 + entry}, street);
    }
    return map;
}

} // namespace

TEST_CASE("a square is crossed straight from entry to entry") {
    const auto network = build_foot_network(market(square).read());
    CHECK(edges_of(network, 9) == 4 + 2); // four sides, two diagonals
    CHECK(seconds(drive(network, 1, 3)) == doctest::Approx(straight(0.0, 0.0, 0.001, 0.001)).epsilon(1e-4));
    CHECK(seconds(drive(network, 4, 2)) == doctest::Approx(straight(0.001, 0.0, 0.0, 0.001)).epsilon(1e-4));
    CHECK(seconds(drive(network, 1, 2)) == doctest::Approx(straight(0.0, 0.0, 0.0, 0.001)).epsilon(1e-4));
    CHECK(count_of(network, "squares crossed straight") == 1);
    for (const roads::Edge& edge : network.edges)
        if (edge.way == 9)
            CHECK(network.name_of(edge) == "Market");
}

TEST_CASE("corners where no other way comes in get no link") {
    const auto network = build_foot_network(market(square, {1, 3}).read());
    CHECK(edges_of(network, 9) == 2 + 1); // the rim in two pieces, one diagonal
    CHECK(edges_of(build_foot_network(market(square, {1}).read()), 9) == 1);
    CHECK(edges_of(build_foot_network(market(square, {}).read()), 9) == 1);
}

TEST_CASE("what may be a square is crossed, what is just a loop is not") {
    const std::size_t with_links = 6;
    const std::size_t rim_only = 4;
    for (const char* path : {"footway", "path"}) {
        CHECK(edges_of(build_foot_network(market({{"highway", path}, {"area", "yes"}}).read()), 9) == with_links);
        CHECK(edges_of(build_foot_network(market({{"highway", path}}).read()), 9) == rim_only);
    }
    const auto untagged = build_foot_network(market({{"highway", "pedestrian"}}).read());
    CHECK(edges_of(untagged, 9) == with_links);
    CHECK(count_of(untagged, "closed pedestrian streets without area tag: taken as squares") == 1);
    CHECK(edges_of(build_foot_network(market({{"highway", "pedestrian"}, {"area", "no"}}).read()), 9) == rim_only);
    CHECK(edges_of(build_foot_network(market(street).read()), 9) == rim_only);
    const Pairs one_way{{"highway", "pedestrian"}, {"area", "yes"}, {"oneway:foot", "yes"}};
    CHECK(edges_of(build_foot_network(market(one_way).read()), 9) == rim_only);
}

TEST_CASE("the van does not cross squares") {
    CHECK(edges_of(market(square).network(), 9) == 0);
}

TEST_CASE("a square whose rim the file lacks a node of is not crossed") {
    MapText map = market(square);
    map.way(9, {1, 2, 3, 77, 4, 1}, square, 2);
    const auto network = build_foot_network(map.read());
    CHECK(edges_of(network, 9) == 3);
    CHECK(count_of(network, "squares crossed straight") == 0);
}

TEST_CASE("an entry shut to walkers is not linked") {
    MapText map = market(square);
    map.node(3, 0.001, 0.001, {{"barrier", "gate"}, {"access", "private"}}, 2);
    const auto network = build_foot_network(map.read());
    CHECK(edges_of(network, 9) == 4 + 1);
    CHECK(drive(network, 4, 2));
    CHECK_FALSE(drive(network, 1, 13));
}

TEST_CASE("links stay inside a square with a corner cut out, and off its rim") {
    // An L: 1 south-west, 2 south-east, 3 and 4 the inner corner's arm, 5 and 6 the northern arm.
    MapText map;
    map.node(1, 0.0, 0.0).node(2, 0.0, 0.002).node(3, 0.001, 0.002).node(4, 0.001, 0.001);
    map.node(5, 0.0015, 0.001).node(6, 0.0015, 0.0);
    map.way(9, {1, 2, 3, 4, 5, 6, 1}, square);
    for (roads::OsmId entry = 1; entry <= 6; ++entry) {
        map.node(10 + entry, 0.01, 0.001 * static_cast<double>(entry));
        map.way(20 + entry, {entry, 10 + entry}, street);
    }
    const auto network = build_foot_network(map.read());
    const auto linked = [&](roads::OsmId a, roads::OsmId b) {
        for (std::uint32_t arc = 0; arc < network.arcs.size(); ++arc)
            if (network.edges[value(network.arcs[arc].edge)].way == 9 && network.node_osm[network.tail[arc]] == a &&
                network.node_osm[value(network.arcs[arc].head)] == b)
                return true;
        return false;
    };
    CHECK(linked(1, 4));
    CHECK(linked(2, 4));
    CHECK(linked(1, 3));
    CHECK_FALSE(linked(3, 5)); // over the corner that is cut out
    CHECK_FALSE(linked(2, 5)); // its middle lies inside, but it leaves the square
    CHECK(linked(1, 2));       // the rim
}

TEST_CASE("a square with many entries gets few links, and no crossing more than a tenth longer than straight") {
    constexpr int corners = 30;
    MapText map;
    std::vector<roads::OsmId> rim;
    std::vector<std::pair<double, double>> places;
    for (int i = 0; i < corners; ++i) {
        const double angle = 2.0 * std::numbers::pi * i / corners;
        places.emplace_back(0.001 * std::sin(angle), 0.001 * std::cos(angle));
        map.node(i + 1, places.back().first, places.back().second);
        map.node(i + 101, 3.0 * places.back().first, 3.0 * places.back().second);
        map.way(i + 201, {i + 1, i + 101}, street);
        rim.push_back(i + 1);
    }
    rim.push_back(1);
    map.way(9, rim, square);
    const auto network = build_foot_network(map.read());
    const std::size_t links = edges_of(network, 9) - corners;
    CHECK(links > 10);
    CHECK(links < corners * (corners - 3) / 2 / 2);
    double longest = 0.0;
    for (int i = 0; i < corners; ++i)
        for (const auto& [node, time] : reach(network, i + 1))
            if (node <= corners && node != i + 1) {
                const auto [south, west] = places[static_cast<std::size_t>(i)];
                const auto [north, east] = places[static_cast<std::size_t>(node - 1)];
                longest = std::max(longest, static_cast<double>(time) / 1000.0 / straight(south, west, north, east));
            }
    CHECK(longest <= 1.1001);
}
