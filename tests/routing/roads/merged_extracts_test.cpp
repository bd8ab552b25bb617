#include "routing/roads/merged_extracts.hpp"
#include "tests/routing/roads/map_text.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace roads_test;

namespace {
const Pairs street{{"highway", "residential"}};

bool is_car_park(const roads::Tags& tags) {
    return tags["amenity"] == "parking";
}

/// Nodes 1 to 5 along one way, cut between 3 and 4 as a clipping tool leaves it.
MapText west() {
    MapText map;
    map.node(1, 0.0, 0.0).node(2, 0.0, 0.01).node(3, 0.0, 0.02);
    map.way(7, {1, 2, 3, 4, 5}, street).way(8, {1, 2}, street);
    return map;
}
MapText east() {
    MapText map;
    map.node(3, 0.0, 0.02).node(4, 0.0, 0.03).node(5, 0.0, 0.04, {{"barrier", "gate"}});
    map.way(7, {1, 2, 3, 4, 5}, street).way(9, {4, 5}, street);
    return map;
}
} // namespace

TEST_CASE("a way clipped on both sides is whole again in the merged map") {
    for (const bool turned : {false, true}) {
        std::vector<roads::OsmExtract> both{west().read(), east().read()};
        CHECK(both[0].counts.missing_nodes == 2);
        if (turned)
            std::swap(both[0], both[1]);
        const auto map = roads::merge_extracts(std::move(both));
        CHECK(map.node_ids == std::vector<roads::OsmId>{1, 2, 3, 4, 5});
        CHECK(map.roads.size() == 3);
        CHECK(map.road_nodes.size() == 1);
        CHECK(map.counts.missing_nodes == 0);
        CHECK(map.counts.nodes == 6);
        CHECK(map.box->north_east.longitude.value == doctest::Approx(0.04));
        const auto network = roads::build_network(map, {});
        CHECK(drive(network, 1, 5));
        CHECK_FALSE(drive(west().network(), 1, 5));
    }
}

TEST_CASE("of two states of an object the newer data win, whatever their order") {
    for (const bool turned : {false, true}) {
        auto old_map = west().read(), new_map = east().read();
        old_map.data_date = "2023-01-02T00:00:00Z";
        new_map.data_date = "2023-05-01T00:00:00Z";
        old_map.roads[0].tags = tags({{"highway", "primary"}});
        new_map.roads[0].tags = tags({{"highway", "track"}});
        std::vector<roads::OsmExtract> both{old_map, new_map};
        if (turned)
            std::swap(both[0], both[1]);
        const auto map = roads::merge_extracts(std::move(both));
        CHECK(map.roads[0].id == 7);
        CHECK(map.roads[0].tags["highway"] == "track");
        CHECK(map.data_date == "2023-01-02T00:00:00Z");
    }
}

TEST_CASE("an area that is whole in one extract wins over its clipped half") {
    MapText whole, clipped;
    for (MapText* map : {&whole, &clipped})
        map->node(1, 0.0, 0.0).node(2, 0.0, 0.01).node(3, 0.01, 0.01);
    whole.node(4, 0.01, 0.0).way(6, {1, 2, 3, 4, 1}, {{"amenity", "parking"}});
    clipped.way(6, {1, 2, 3, 4, 1}, {{"amenity", "parking"}});
    std::vector<roads::OsmExtract> both{clipped.read(is_car_park), whole.read(is_car_park)};
    CHECK(both[0].features.at(0).outline.empty());
    both[0].data_date = "2024-01-01T00:00:00Z";
    const auto map = roads::merge_extracts(std::move(both));
    REQUIRE(map.features.size() == 1);
    CHECK(map.features[0].outline.size() == 5);
}

TEST_CASE("merging a map with itself changes nothing") {
    const auto once = east().read();
    const auto twice = roads::merge_extracts({once, once});
    CHECK(twice.node_ids == once.node_ids);
    CHECK(twice.roads.size() == once.roads.size());
    CHECK(twice.counts.missing_nodes == once.counts.missing_nodes);
    const auto a = roads::build_network(once, {}), b = roads::build_network(twice, {});
    CHECK(a.node_osm == b.node_osm);
    CHECK(a.arcs.size() == b.arcs.size());
}
