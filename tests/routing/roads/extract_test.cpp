#include "tests/routing/roads/map_text.hpp"

#include "tests/support/near.hpp"

#include <doctest/doctest.h>

using namespace roads_test;
using geo::Degrees;

namespace {
const Pairs street{{"highway", "residential"}};

bool is_car_park(const roads::Tags& tags) {
    return tags["amenity"] == "parking";
}

MapText two_streets() {
    MapText map;
    map.node(1, 10.0, 20.0).node(2, 10.0, 20.01, {{"barrier", "gate"}}).node(3, 10.01, 20.01);
    map.way(5, {1, 2}, street).way(6, {2, 3}, street);
    return map;
}
} // namespace

TEST_CASE("roads, their nodes and the nodes' barriers are read with ids kept") {
    const auto extract = two_streets().read();
    CHECK(extract.node_ids == std::vector<roads::OsmId>{1, 2, 3});
    REQUIRE(extract.roads.size() == 2);
    CHECK(extract.roads[0].id == 5);
    CHECK(extract.roads[0].nodes == std::vector<roads::OsmId>{1, 2});
    CHECK(extract.roads[1].tags["highway"] == "residential");
    REQUIRE(extract.road_nodes.size() == 1);
    CHECK(extract.road_nodes[0].id == 2);
    CHECK(extract.road_nodes[0].tags["barrier"] == "gate");
    CHECK(extract.place_of(3)->latitude.value == doctest::Approx(10.01));
    CHECK_FALSE(extract.place_of(4));
    CHECK(extract.counts.nodes == 3);
    CHECK(extract.counts.ways == 2);
    CHECK(extract.data_date.empty());
}

TEST_CASE("relations, ways and nodes in any order and with negative ids give the same extract") {
    // osmium-tool issue 30: hand-drawn objects count -1, -2, -3 (D08).
    MapText turned;
    turned.way(-6, {-2, -3}, street).way(-5, {-1, -2}, street);
    turned.node(-3, 10.01, 20.01).node(-1, 10.0, 20.0).node(-2, 10.0, 20.01);
    MapText straight;
    straight.node(-1, 10.0, 20.0).node(-2, 10.0, 20.01).node(-3, 10.01, 20.01);
    straight.way(-5, {-1, -2}, street).way(-6, {-2, -3}, street);
    const auto a = turned.read();
    const auto b = straight.read();
    CHECK(a.node_ids == std::vector<roads::OsmId>{-3, -2, -1});
    CHECK(a.node_ids == b.node_ids);
    CHECK(a.node_places == b.node_places);
    REQUIRE(a.roads.size() == 2);
    CHECK(a.roads[0].id == -6);
    CHECK(b.roads[0].id == -6);
    CHECK(a.roads[0].nodes == b.roads[0].nodes);
    CHECK(a.counts.repeated_objects == 0);
}

TEST_CASE("node ids beyond 32 bits stay apart") {
    // osm2pgsql issue 1434 (D09): 4842224254 and 547256958 are equal modulo 2^32.
    MapText map;
    map.node(547256958, 1.0, 1.0).node(4842224254, 2.0, 2.0).way(1, {547256958, 4842224254}, street);
    const auto extract = map.read();
    CHECK(extract.node_ids == std::vector<roads::OsmId>{547256958, 4842224254});
    CHECK(extract.place_of(4842224254)->latitude == Degrees{2.0});
}

TEST_CASE("a node at 0, 0 is a place, one off the globe is dropped alone") {
    // osm2pgsql issue 158 and PR 455 (D10): latitude 83.45, longitude 214.75.
    MapText map;
    map.node(1, 0.0, 0.0).node(2, 0.0, 0.01).node(3, 83.45, 214.75).node(4, 83.45, 214.7).node(5, 99.0, 1.0);
    map.raw("<node id='6' version='1'/>").raw("<node id='7' version='1' lat='north' lon='1'/>");
    map.way(9, {1, 2, 3, 4, 5, 6, 7}, street);
    const auto extract = map.read();
    CHECK(extract.node_ids == std::vector<roads::OsmId>{1, 2});
    CHECK(extract.place_of(1) == geo::Coordinate{Degrees{0.0}, Degrees{0.0}});
    CHECK(extract.counts.nodes == 7);
    CHECK(extract.counts.invalid_locations == 5);
    CHECK(extract.counts.missing_nodes == 5);
}

TEST_CASE("a coordinate no number can hold is mended in the node's attributes only") {
    MapText map;
    map.node(1, 1.0, 1.0).node(2, 1.0, 1.01, {{"name", "at lon=999999"}, {"barrier", "gate"}});
    map.raw("<node id='3' version='1' lon='1e9'\tlat='1'/>").way(9, {1, 2, 3}, street);
    const auto extract = map.read();
    CHECK(extract.counts.invalid_locations == 1);
    CHECK(extract.counts.nodes == 3);
    REQUIRE(extract.road_nodes.size() == 1);
    CHECK(extract.road_nodes[0].tags["name"] == "at lon=999999");
}

TEST_CASE("of an object that comes twice the newest version counts, wherever it stands") {
    // osmium-tool issues 197, 244 (D07): neighbouring extracts joined.
    const Pairs path{{"highway", "path"}};
    for (const bool new_first : {false, true}) {
        MapText map;
        const auto add = [&](bool is_new) {
            if (is_new)
                map.node(1, 10.0, 20.0, {}, 4).way(5, {1, 2}, path, 7).way(6, {2, 1}, {{"was", "road"}}, 3);
            else
                map.node(1, 11.0, 21.0, {{"barrier", "gate"}}, 3).way(5, {2, 1}, street, 6).way(6, {2, 1}, street, 2);
        };
        add(new_first);
        map.node(2, 10.0, 20.01);
        add(!new_first);
        const auto extract = map.read();
        CHECK(extract.place_of(1)->latitude == Degrees{10.0});
        CHECK(extract.road_nodes.empty());
        REQUIRE(extract.roads.size() == 1); // 6 is a road no more
        CHECK(extract.roads[0].nodes == std::vector<roads::OsmId>{1, 2});
        CHECK(extract.roads[0].tags["highway"] == "path");
        CHECK(extract.counts.repeated_objects == 3);
    }
}

TEST_CASE("identical copies are dropped without a word but counted") {
    MapText map = two_streets();
    map.node(1, 10.0, 20.0).node(2, 10.0, 20.01, {{"barrier", "gate"}}).way(5, {1, 2}, street);
    const auto extract = map.read();
    CHECK(extract.roads.size() == 2);
    CHECK(extract.road_nodes.size() == 1);
    CHECK(extract.counts.repeated_objects == 3);
}

TEST_CASE("objects deleted in a history file are gone") {
    MapText map;
    map.node(1, 10.0, 20.0).node(2, 10.0, 20.01);
    map.raw("<node id='3' version='1' visible='true' lat='1' lon='1'/>");
    map.raw("<node id='3' version='2' visible='false'/>");
    map.way(5, {1, 2}, street).raw("<way id='5' version='2' visible='false'/>").way(6, {1, 2, 3}, street);
    const TemporaryFile file{".osh", map.xml()};
    const auto extract = roads::read_extract(file.path(), [](const roads::Tags&) { return false; });
    REQUIRE(extract.roads.size() == 1);
    CHECK(extract.roads[0].id == 6);
    CHECK(extract.node_ids == std::vector<roads::OsmId>{1, 2});
    CHECK(extract.counts.missing_nodes == 1);
}

TEST_CASE("references to nodes the file lacks are counted and kept in the way") {
    MapText map = two_streets();
    map.way(7, {1, 77, 3}, street);
    const auto extract = map.read();
    CHECK(extract.counts.missing_nodes == 1);
    CHECK(extract.roads[2].nodes == std::vector<roads::OsmId>{1, 77, 3});
}

TEST_CASE("ferries are read beside roads, other ways are not") {
    MapText map = two_streets();
    map.way(7, {1, 3}, {{"route", "ferry"}})
        .way(8, {1, 3}, {{"route", "hiking"}})
        .way(9, {1, 3}, {{"waterway", "river"}});
    CHECK(map.read().roads.size() == 3);
}

TEST_CASE("wanted nodes, closed ways and multipolygons become features with a point inside") {
    MapText map;
    const Pairs car_park{{"amenity", "parking"}};
    // A horseshoe, open to the north: its centre of gravity lies outside.
    map.node(1, 0.0, 0.0).node(2, 0.0, 0.3).node(3, 0.3, 0.3).node(4, 0.3, 0.2).node(5, 0.1, 0.2);
    map.node(6, 0.1, 0.1).node(7, 0.3, 0.1).node(8, 0.3, 0.0);
    map.node(10, 5.0, 5.0, car_park);
    map.way(20, {1, 2, 3, 4, 5, 6, 7, 8, 1}, car_park);
    map.way(21, {1, 2, 3}, {}).way(22, {3, 4, 5, 6, 7, 8, 1}, {});
    map.way(23, {1, 2, 3}, car_park); // not closed: no area
    map.relation(30, {{"way", 22, "outer"}, {"way", 21, ""}}, {{"type", "multipolygon"}, {"amenity", "parking"}});
    map.relation(31, {{"way", 22, "outer"}, {"way", 99, "outer"}}, {{"type", "multipolygon"}, {"amenity", "parking"}});
    const auto extract = map.read(is_car_park);
    REQUIRE(extract.features.size() == 4);
    CHECK(extract.features[0].object == roads::OsmObject{roads::OsmType::node, 10});
    CHECK(extract.features[0].outline.empty());
    for (const std::size_t i : {1, 2}) {
        const auto& area = extract.features[i];
        CHECK(area.outline.size() == 9);
        CHECK(area.outline.front() == area.outline.back());
        const double north = area.at.latitude.value;
        const double east = area.at.longitude.value;
        const bool in_an_arm = (east > 0.0 && east < 0.1) || (east > 0.2 && east < 0.3);
        CHECK(north > 0.0);
        CHECK(north < 0.3);
        CHECK((north < 0.1 || in_an_arm));
    }
    // The outline can't be closed: a place is still known.
    CHECK(extract.features[3].outline.empty());
    CHECK(extract.features[3].at.latitude.value > 0.0);
    CHECK(extract.counts.broken_outlines == 1);
    CHECK(extract.node_ids.empty()); // no roads
}

TEST_CASE("the box is that of the roads, also across longitude 180") {
    MapText map;
    map.node(1, -17.0, 179.9).node(2, -16.0, -179.8).node(3, 50.0, 0.0).way(9, {1, 2}, street);
    const auto box = map.read().box;
    REQUIRE(box);
    CHECK(box->south_west == geo::Coordinate{Degrees{-17.0}, Degrees{179.9}});
    CHECK(support::near(box->north_east.longitude, Degrees{-179.8}, Degrees{1e-9}));
    CHECK(box->north_east.latitude == Degrees{-16.0});
}

TEST_CASE("tags are found by key, the first of two equal keys counts") {
    const roads::Tags tags{Pairs{{"b", "2"}, {"a", "1"}, {"b", "3"}}};
    CHECK(tags["a"] == "1");
    CHECK(tags["b"] == "2");
    CHECK(tags["c"].empty());
    CHECK(tags.all().size() == 2);
}
