#include "tests/routing/roads/map_text.hpp"

#include "routing/roads/line_length.hpp"
#include "routing/roads/space_curve.hpp"
#include "routing/roads/strong_components.hpp"
#include "tests/support/near.hpp"

#include <doctest/doctest.h>

#include <random>
#include <set>

using namespace roads_test;
using geo::Degrees;

namespace {

const Pairs street{{"highway", "residential"}};
const Pairs one_way{{"highway", "residential"}, {"oneway", "yes"}};
constexpr double street_metres_per_second = 28.0 / 3.6; // class figure of a residential road

/// Nodes 1..count in a row eastwards on the equator, 0.001 degrees (111.3 m) apart.
MapText row(int count) {
    MapText map;
    for (int i = 1; i <= count; ++i)
        map.node(i, 0.0, 0.001 * i);
    return map;
}

std::size_t edges_of(const roads::RoadNetwork& network, roads::OsmId way) {
    std::size_t count = 0;
    for (const roads::Edge& edge : network.edges)
        count += edge.way == way ? 1 : 0;
    return count;
}

double seconds(std::optional<std::uint64_t> milliseconds) {
    REQUIRE(milliseconds);
    return static_cast<double>(*milliseconds) / 1000.0;
}

} // namespace

TEST_CASE("ways are cut at shared nodes and their ends only") {
    MapText map = row(5);
    map.node(9, 0.001, 0.003).way(10, {1, 2, 3, 4, 5}, street).way(11, {3, 9}, street);
    const auto network = map.network();
    CHECK(network.node_count() == 4);
    CHECK(network.edges.size() == 3);
    CHECK(edges_of(network, 10) == 2);
    CHECK(network.arcs.size() == 6);
    CHECK(network.component_size == std::vector<std::uint32_t>{4});
    for (const auto& edge : network.edges)
        if (edge.way == 10)
            CHECK(network.shape_of(edge).size() == 3);
}

TEST_CASE("only a shared node id joins roads, not a shared place") {
    MapText map;
    map.node(1, 0.0, 0.0).node(2, 0.0, 0.001).node(3, 0.0, 0.002);
    map.node(4, -0.001, 0.001).node(5, 0.0, 0.001).node(6, 0.001, 0.001);
    map.way(10, {1, 2, 3}, {{"highway", "residential"}, {"bridge", "yes"}, {"layer", "1"}}).way(11, {4, 5, 6}, street);
    const auto network = map.network();
    CHECK(network.edges.size() == 2);
    CHECK(network.component_size == std::vector<std::uint32_t>{2, 2});
    CHECK_FALSE(drive(network, 1, 4));
}

TEST_CASE("crossing times follow length and speed, in milliseconds") {
    // 0.004 degrees of longitude on the equator: 6378137 m x pi / 180 x 0.004 = 445.278 m.
    MapText map = row(5);
    map.way(10, {1, 2, 3, 4, 5}, street);
    const auto network = map.network();
    CHECK(support::near(geo::Metres{network.edges[0].metres}, geo::Metres{445.278}, geo::Metres{0.01}));
    CHECK(seconds(drive(network, 1, 5)) == doctest::Approx(445.278 / street_metres_per_second).epsilon(1e-4));
    CHECK(network.names[network.edges[0].name].empty());
}

TEST_CASE("each direction has its own speed and time") {
    MapText map = row(2);
    map.way(10, {1, 2}, {{"highway", "primary"}, {"maxspeed:forward", "50"}, {"maxspeed:backward", "30"}});
    const auto network = map.network();
    CHECK(seconds(drive(network, 1, 2)) * 45.0 == doctest::Approx(seconds(drive(network, 2, 1)) * 27.0).epsilon(1e-4));
}

TEST_CASE("names join name and ref, equal ones share a place") {
    MapText map = row(4);
    map.way(10, {1, 2}, {{"highway", "primary"}, {"name", "Harbour Road"}, {"ref", "B 12"}});
    map.way(11, {2, 3}, {{"highway", "primary"}, {"ref", "B 12"}});
    map.way(12, {3, 4}, {{"highway", "primary"}, {"name", "Harbour Road"}, {"ref", "B 12"}});
    const auto network = map.network();
    CHECK(network.names == std::vector<std::string>{"", "Harbour Road (B 12)", "B 12"});
    for (const auto& edge : network.edges)
        CHECK(network.name_of(edge) == (edge.way == 11 ? "B 12" : "Harbour Road (B 12)"));
}

TEST_CASE("a missing node cuts the way and is never bridged") {
    // pyosmium issue 181 (D06); libosmium issues 251, 374 (D05).
    MapText map = row(5);
    map.way(10, {1, 2, 77, 4, 5}, street).way(11, {1, 78}, street).way(12, {78, 79}, street);
    const auto network = map.network();
    CHECK(network.edges.size() == 2);
    CHECK_FALSE(drive(network, 1, 5));
    CHECK(drive(network, 4, 5));
    CHECK(count_of(network, "roads cut where nodes are missing") == 3);
    CHECK(count_of(network, "roads without two different nodes: left out") == 2);
}

TEST_CASE("repeated nodes and stretches without length leave no trace") {
    // open-gira PR 206, minjur issue 1 (D11).
    MapText map = row(4);
    map.node(9, 0.0, 0.002); // where node 2 is
    map.way(10, {1, 2, 2, 9, 9, 3}, street).way(11, {9, 4}, street).way(12, {4}, street).way(13, {4, 4}, street);
    const auto network = map.network();
    CHECK(drive(network, 1, 4)); // the two nodes at one place are one
    CHECK(count_of(network, "zero-length road stretches: ends joined") == 1);
    CHECK(count_of(network, "roads without two different nodes: left out") == 2);
    for (const auto& edge : network.edges) {
        CHECK(edge.metres > 1.0F);
        CHECK(edge.forward >= 1);
    }
}

TEST_CASE("loops stay: a closed way, a lollipop, a figure of eight") {
    MapText map = row(4);
    map.node(8, 0.001, 0.002).node(9, 0.001, 0.003).node(10, -0.001, 0.002);
    map.way(20, {2, 3, 9, 8, 2}, one_way);     // ring at node 2
    map.way(21, {1, 2}, street);               // its stem
    map.way(22, {3, 4, 9, 3, 10, 3}, one_way); // passes node 3 three times
    const auto network = map.network();
    CHECK(drive(network, 1, 9)); // 8 lies within the ring's edge 9-8-2 and is no junction
    CHECK(drive(network, 3, 1));
    CHECK(edges_of(network, 22) == 3); // 3-4-9, 9-3, 3-10-3
    MapText ring = row(3);
    ring.way(30, {1, 2, 3, 1}, one_way);
    const auto alone = ring.network();
    CHECK(alone.edges.size() == 1);
    CHECK(alone.node_count() == 1);
    CHECK(alone.shape_of(alone.edges[0]).size() == 4);
}

TEST_CASE("parallel roads between the same junctions are both kept") {
    // osmnx issue 1161 (D17).
    MapText map = row(2);
    map.node(9, 0.001, 0.0015).way(10, {1, 2}, street).way(11, {1, 9, 2}, {{"highway", "motorway"}});
    const auto network = map.network();
    CHECK(network.edges.size() == 2);
    CHECK(network.arcs.size() == 3);
    // The longer one is the faster.
    const auto quickest = drive(network, 1, 2);
    for (const auto& edge : network.edges)
        if (edge.way == 11)
            CHECK(quickest == edge.forward);
}

TEST_CASE("a closed barrier in mid-way leaves two dead ends") {
    MapText map;
    map.node(1, 0.0, 0.001).node(2, 0.0, 0.002, {{"barrier", "bollard"}}).node(3, 0.0, 0.003);
    map.way(10, {1, 2, 3}, street);
    const auto network = map.network();
    CHECK(network.edges.size() == 2);
    CHECK(network.node_count() == 4);
    CHECK_FALSE(drive(network, 1, 3));
    CHECK(network.component_size == std::vector<std::uint32_t>{2, 2});
}

TEST_CASE("a gate costs 45 seconds once, in each direction, and is noted") {
    // osmnx issue 625 (D16): tagged nodes in mid-way must not vanish.
    MapText plain = row(3);
    plain.way(10, {1, 2, 3}, street);
    MapText gated;
    gated.node(1, 0.0, 0.001).node(2, 0.0, 0.002, {{"barrier", "gate"}}).node(3, 0.0, 0.003).way(10, {1, 2, 3}, street);
    const auto with = gated.network();
    const auto without = plain.network();
    CHECK(seconds(drive(with, 1, 3)) == doctest::Approx(seconds(drive(without, 1, 3)) + 45.0).epsilon(1e-4));
    CHECK(seconds(drive(with, 3, 1)) == doctest::Approx(seconds(drive(without, 3, 1)) + 45.0).epsilon(1e-4));
    for (const auto& edge : with.edges)
        CHECK((edge.notes & roads::note_gate) != 0);
    CHECK(count_of(with, "gates without access tag: taken as openable") == 1);
}

TEST_CASE("a barrier on a junction holds for every turn and is counted") {
    MapText map;
    map.node(1, 0.0, 0.001).node(2, 0.0, 0.002, {{"barrier", "bollard"}}).node(3, 0.0, 0.003).node(4, 0.001, 0.002);
    map.way(10, {1, 2, 3}, street).way(11, {2, 4}, street);
    const auto network = map.network();
    CHECK_FALSE(drive(network, 1, 3));
    CHECK_FALSE(drive(network, 1, 4));
    CHECK(count_of(network, "barriers on a junction: applied to every turn there") == 1);
}

TEST_CASE("a gate for visitors makes the road to it destination-only") {
    MapText map;
    map.node(1, 0.0, 0.001).node(2, 0.0, 0.002, {{"barrier", "gate"}, {"access", "destination"}}).node(3, 0.0, 0.003);
    map.node(4, 0.0, 0.004).way(10, {1, 2, 3}, street).way(11, {3, 4}, street);
    const auto network = map.network();
    for (const auto& edge : network.edges)
        CHECK(edge.destination_only == (edge.way == 10));
}

TEST_CASE("a sign too low on a node cuts the road there for a tall van") {
    MapText map;
    map.node(1, 0.0, 0.001).node(2, 0.0, 0.002, {{"barrier", "height_restrictor"}, {"maxheight", "2.2"}});
    map.node(3, 0.0, 0.003).way(10, {1, 2, 3}, street);
    roads::Vehicle van;
    van.height = geo::Metres{2.6};
    CHECK_FALSE(drive(map.network(van), 1, 3));
    van.height = geo::Metres{2.2};
    CHECK(drive(map.network(van), 1, 3));
}

TEST_CASE("signals within 30 m along a way count once, further apart twice") {
    const auto delay = [](double gap) {
        const Pairs lights{{"highway", "traffic_signals"}};
        MapText map;
        map.node(1, 0.0, 0.0).node(2, 0.0, 0.001, lights).node(3, 0.0, 0.001 + gap, lights).node(4, 0.0, 0.003);
        map.way(10, {1, 2, 3, 4}, street);
        MapText plain;
        plain.node(1, 0.0, 0.0).node(4, 0.0, 0.003).way(10, {1, 4}, street);
        return seconds(drive(map.network(), 1, 4)) - seconds(drive(plain.network(), 1, 4));
    };
    CHECK(delay(0.0002) == doctest::Approx(15.0).epsilon(0.001)); // 22 m
    CHECK(delay(0.0005) == doctest::Approx(30.0).epsilon(0.001)); // 56 m
}

TEST_CASE("signals hold up only the direction they are for, and a junction is paid on arrival") {
    MapText map;
    map.node(1, 0.0, 0.0);
    map.node(2, 0.0, 0.001, {{"highway", "traffic_signals"}, {"traffic_signals:direction", "forward"}});
    map.node(3, 0.0, 0.002).way(10, {1, 2, 3}, street);
    const auto network = map.network();
    CHECK(seconds(drive(network, 1, 3)) - seconds(drive(network, 3, 1)) == doctest::Approx(15.0).epsilon(0.001));

    MapText crossing = row(3);
    crossing.raw("<node id='5' version='1' lat='0.001' lon='0.002'/>");
    crossing.node(2, 0.0, 0.002, {{"highway", "stop"}}, 2).way(10, {1, 2, 3}, street).way(11, {2, 5}, street);
    const auto stop = crossing.network();
    MapText free = row(3);
    free.raw("<node id='5' version='1' lat='0.001' lon='0.002'/>").way(10, {1, 2, 3}, street).way(11, {2, 5}, street);
    const auto none = free.network();
    CHECK(seconds(drive(stop, 1, 3)) - seconds(drive(none, 1, 3)) == doctest::Approx(5.0).epsilon(0.001));
    CHECK(seconds(drive(stop, 1, 5)) - seconds(drive(none, 1, 5)) == doctest::Approx(5.0).epsilon(0.001));
}

TEST_CASE("a ferry costs its duration shared by length, and boarding where it leaves the land") {
    MapText map = row(4);
    map.node(9, 0.1, 0.003);
    map.way(10, {1, 2}, street).way(11, {3, 4}, street);
    map.way(20, {2, 9, 3}, {{"route", "ferry"}, {"motor_vehicle", "yes"}, {"duration", "01:00"}, {"name", "Sound"}});
    const auto network = map.network();
    CHECK(seconds(drive(network, 2, 3)) == doctest::Approx(3600.0 + 900.0).epsilon(1e-6));
    CHECK(seconds(drive(network, 3, 2)) == doctest::Approx(3600.0 + 900.0).epsilon(1e-6));
    CHECK(network.component_size == std::vector<std::uint32_t>{4});
    for (const auto& edge : network.edges)
        CHECK(((edge.notes & roads::note_ferry) != 0) == (edge.way == 20));
    CHECK(count_of(network, "ferries that carry the van") == 1);
}

TEST_CASE("a one-way pocket is no part of the component one can return from") {
    // dodgr issue 322 (D13); osmnx issue 271 (D12).
    MapText map = row(6);
    map.way(10, {1, 2, 3}, street).way(14, {2, 6}, street).way(11, {3, 4}, one_way).way(12, {4, 5}, street);
    const auto network = map.network();
    CHECK(drive(network, 1, 5));
    CHECK(network.component_size == std::vector<std::uint32_t>{4, 2});
    for (std::uint32_t n = 0; n < network.node_count(); ++n) {
        const bool in_pocket = network.node_osm[n] == 4 || network.node_osm[n] == 5;
        CHECK(network.component[n] == (in_pocket ? 1 : 0));
    }
}

TEST_CASE("what is left out is counted in plain words") {
    MapText map = row(5);
    map.way(10, {1, 2}, {{"highway", "footway"}}).way(11, {2, 3}, {{"highway", "steps"}});
    map.way(12, {3, 4}, {{"highway", "residential"}, {"access", "private"}}).way(13, {4, 5}, {{"highway", "hoverway"}});
    const auto network = map.network();
    CHECK(network.edges.empty());
    CHECK(network.node_count() == 0);
    CHECK(count_of(network, "paths and tracks that no tag opens to motor vehicles") == 1);
    CHECK(count_of(network, "ways of a class no van may use") == 1);
    CHECK(count_of(network, "roads closed to motor vehicles") == 1);
    CHECK(count_of(network, "ways of a class not known: closed") == 1);
}

TEST_CASE("a map without roads gives an empty network") {
    MapText map;
    map.node(1, 0.0, 0.0);
    const auto network = map.network();
    CHECK(network.node_count() == 0);
    CHECK(network.first_arc == std::vector<std::uint32_t>{0});
    CHECK(network.component_size.empty());
}

TEST_CASE("length across longitude 180 is the short way round") {
    const auto across = roads::ground_distance({Degrees{-17.0}, Degrees{179.99}}, {Degrees{-17.0}, Degrees{-179.99}});
    const auto same = roads::ground_distance({Degrees{-17.0}, Degrees{0.0}}, {Degrees{-17.0}, Degrees{0.02}});
    CHECK(support::near(across, same, geo::Metres{1e-6}));
}

TEST_CASE("neighbours on the curve are neighbours on the map, and every cell has its own number") {
    // Walk a 16 x 16 grid of cells by their curve numbers: the Hilbert curve steps to an adjacent cell each time.
    std::vector<std::pair<std::uint64_t, std::pair<int, int>>> cells;
    for (int x = 0; x < 16; ++x)
        for (int y = 0; y < 16; ++y)
            cells.push_back({roads::place_on_curve({Degrees{-90.0 + (y + 0.5) * 180.0 / 16}, //
                                                    Degrees{-180.0 + (x + 0.5) * 360.0 / 16}}),
                             {x, y}});
    std::sort(cells.begin(), cells.end());
    for (std::size_t i = 0; i + 1 < cells.size(); ++i) {
        CHECK(cells[i].first < cells[i + 1].first);
        const auto [ax, ay] = cells[i].second;
        const auto [bx, by] = cells[i + 1].second;
        CHECK(std::abs(ax - bx) + std::abs(ay - by) == 1);
    }
}

TEST_CASE("strong components equal those found by trying every pair") {
    std::mt19937 engine{5};
    const auto random = [&engine] { return static_cast<std::uint32_t>(engine()); };
    for (int round = 0; round < 200; ++round) {
        const std::uint32_t count = 1 + random() % 9;
        std::vector<std::vector<bool>> reaches(count, std::vector<bool>(count, false));
        std::vector<std::uint32_t> first{0};
        std::vector<std::uint32_t> heads;
        for (std::uint32_t n = 0; n < count; ++n) {
            reaches[n][n] = true;
            for (std::uint32_t a = random() % 3; a > 0; --a) {
                heads.push_back(random() % count);
                reaches[n][heads.back()] = true;
            }
            first.push_back(static_cast<std::uint32_t>(heads.size()));
        }
        for (std::uint32_t k = 0; k < count; ++k)
            for (std::uint32_t i = 0; i < count; ++i)
                for (std::uint32_t j = 0; j < count; ++j)
                    if (reaches[i][k] && reaches[k][j])
                        reaches[i][j] = true;
        const auto found = roads::strong_components(first, heads);
        for (std::uint32_t i = 0; i < count; ++i)
            for (std::uint32_t j = 0; j < count; ++j)
                CHECK((found.of_node[i] == found.of_node[j]) == (reaches[i][j] && reaches[j][i]));
        std::vector<std::uint32_t> size(found.size.size(), 0);
        for (const std::uint32_t c : found.of_node)
            ++size[c];
        CHECK(size == found.size);
        CHECK(std::is_sorted(size.rbegin(), size.rend()));
    }
}

TEST_CASE("a road of a hundred thousand pieces does not overflow the stack") {
    std::vector<std::uint32_t> first{0};
    std::vector<std::uint32_t> heads;
    for (std::uint32_t n = 0; n < 100'000; ++n) {
        heads.push_back((n + 1) % 100'000);
        first.push_back(n + 1);
    }
    CHECK(roads::strong_components(first, heads).size == std::vector<std::uint32_t>{100'000});
}
