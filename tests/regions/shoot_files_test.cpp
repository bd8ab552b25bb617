#include "geo/light_window.hpp"
#include "routing/places/place.hpp"
#include "tests/regions/extract_reading.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <set>
#include <string>

using namespace regions_test;
using nlohmann::json;
using namespace nlohmann::literals;

namespace {

const std::filesystem::path folder = std::filesystem::path(DAYWEAVE_SOURCE_DIR) / "regions" / "ondrel";

json read_shoot(const char* name) {
    std::ifstream in(folder / name);
    REQUIRE(in);
    return json::parse(in, nullptr, true, true);
}

Point point_of(const json& at) {
    return {std::llround(at.at("lat").get<double>() * 1e7), std::llround(at.at("lon").get<double>() * 1e7)};
}

double metres_to_van_road(Point at) {
    static const Map map = read_map(folder / "ondrel.osm.pbf");
    static const auto arcs = van_arcs(map);
    double nearest = 1e9;
    for (const auto& [from, list] : arcs)
        if (!list.empty())
            nearest = std::min(nearest, metres_between(map.nodes.at(from).at, at));
    return nearest;
}

std::set<std::string> ids(const json& list) {
    std::set<std::string> found;
    for (const json& entry : list)
        CHECK_MESSAGE(found.insert(entry.at("id")).second, "twice: ", entry.at("id"));
    return found;
}

} // namespace

TEST_CASE("each location of the demo shoots can be reached by van or by a short walk") {
    for (const char* name : {"one_day.json", "three_days.json"}) {
        const json shoot = read_shoot(name);
        CHECK(std::filesystem::exists(folder / shoot.at("region").get<std::string>()));
        CHECK(metres_to_van_road(point_of(shoot.at("base").at("at"))) < 60.0);
        for (const json& location : shoot.at("locations")) {
            INFO(name, " ", location.at("id"));
            const double away = metres_to_van_road(point_of(location.at("at")));
            if (location.contains("park_at")) {
                CHECK(away < 700.0);
                CHECK(metres_to_van_road(point_of(location.at("park_at"))) < 90.0);
            } else {
                CHECK(away < 90.0);
            }
        }
    }
}

TEST_CASE("scenes of the demo shoots name locations and scenes that exist") {
    for (const char* name : {"one_day.json", "three_days.json"}) {
        const json shoot = read_shoot(name);
        const auto locations = ids(shoot.at("locations"));
        const auto scenes = ids(shoot.at("scenes"));
        std::set<std::string> used;
        for (const json& scene : shoot.at("scenes")) {
            INFO(name, " ", scene.at("id"));
            CHECK(locations.contains(scene.at("at")));
            used.insert(scene.at("at"));
            for (const json& option : scene.value("or", json::array())) {
                CHECK(locations.contains(option.at("at")));
                used.insert(option.at("at"));
            }
            for (const json& before : scene.value("after", json::array()))
                CHECK(scenes.contains(before));
        }
        CHECK(used == locations);
    }
}

TEST_CASE("one shoot has six locations in a day, the other three days and beds") {
    const json one = read_shoot("one_day.json");
    CHECK(one.at("locations").size() == 6);
    CHECK(one.at("days").size() == 1);
    const json three = read_shoot("three_days.json");
    CHECK(three.at("days").size() == 3);
    CHECK(three.at("scenes").size() >= 12);
    CHECK(three.at("days")[0].at("end") == "bed");
    CHECK(three.contains("lodging"));
}

TEST_CASE("the shoot file's schema names the lights and kinds of places the program knows") {
    std::ifstream in(std::filesystem::path(DAYWEAVE_SOURCE_DIR) / "docs" / "shoot.schema.json");
    const json schema = json::parse(in);
    std::vector<std::string> lights;
    for (const geo::LightName name : geo::light_names())
        lights.emplace_back(geo::to_string(name));
    CHECK(schema.at("/$defs/one_light/oneOf/0/enum"_json_pointer) == json(lights));

    const auto kinds_for = [](routing::places::Need need) {
        std::set<std::string> kinds;
        for (int n = 0; n <= static_cast<int>(routing::places::PlaceKind::pharmacy); ++n)
            if (routing::places::need_of(static_cast<routing::places::PlaceKind>(n)) == need)
                kinds.emplace(routing::places::to_string(static_cast<routing::places::PlaceKind>(n)));
        return kinds;
    };
    CHECK(schema.at("/properties/meals/items/properties/kinds/items/enum"_json_pointer).get<std::set<std::string>>() ==
          kinds_for(routing::places::Need::food));
    CHECK(schema.at("/properties/lodging/properties/kinds/items/enum"_json_pointer).get<std::set<std::string>>() ==
          kinds_for(routing::places::Need::bed));
}

TEST_CASE("the demo shoots use only keys of the shoot file's schema") {
    std::ifstream in(std::filesystem::path(DAYWEAVE_SOURCE_DIR) / "docs" / "shoot.schema.json");
    const json schema = json::parse(in);
    const auto check = [](const json& object, const json& properties) {
        for (const auto& [key, value] : object.items())
            CHECK_MESSAGE(properties.contains(key), key);
    };
    for (const char* name : {"one_day.json", "three_days.json"}) {
        const json shoot = read_shoot(name);
        check(shoot, schema.at("properties"));
        for (const char* list : {"days", "locations", "scenes", "meals"})
            for (const json& entry : shoot.at(list))
                check(entry, schema.at("properties").at(list).at("items").at("properties"));
    }
}
