#include "plan_fixture.hpp"
#include "shoot_fixture.hpp"

#include "cli/write_route.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <set>

using fixture::Json;
using fixture::made_plan;
using fixture::made_shoot;

namespace {

std::string route() {
    return cli::write_route(made_plan(), made_shoot());
}

void walk_positions(const Json& coordinates, std::vector<std::pair<double, double>>& positions) {
    if (coordinates[0].is_number())
        positions.emplace_back(coordinates[0].get<double>(), coordinates[1].get<double>());
    else
        for (const Json& part : coordinates)
            walk_positions(part, positions);
}

} // namespace

TEST_CASE("the route is a feature collection by RFC 7946") {
    const Json json = Json::parse(route());
    CHECK(json["type"] == "FeatureCollection");
    CHECK_FALSE(json.contains("crs"));
    std::vector<std::pair<double, double>> positions;
    for (const Json& feature : json["features"]) {
        CHECK(feature["type"] == "Feature");
        std::set<std::string> members;
        for (const auto& [key, value] : feature.items())
            members.insert(key);
        CHECK(members == std::set<std::string>{"type", "geometry", "properties"});
        const std::string type = feature["geometry"]["type"];
        CHECK((type == "Point" || type == "LineString"));
        walk_positions(feature["geometry"]["coordinates"], positions);
    }
    // Longitude first, everything inside the box, the box touched on all sides (section 5).
    REQUIRE(json["bbox"].size() == 4);
    double west = 180, east = -180, south = 90, north = -90;
    for (const auto& [longitude, latitude] : positions) {
        west = std::min(west, longitude);
        east = std::max(east, longitude);
        south = std::min(south, latitude);
        north = std::max(north, latitude);
    }
    CHECK(json["bbox"] == Json{west, south, east, north});
    CHECK(west == -8.412346);
    CHECK(south == -35.215001);
}

TEST_CASE("no number has more than six decimals") {
    const std::string text = route();
    std::size_t longest = 0;
    for (std::size_t point = text.find('.'); point != std::string::npos; point = text.find('.', point + 1)) {
        const std::size_t end = text.find_first_not_of("0123456789", point + 1);
        longest = std::max(longest, end - point - 1);
    }
    CHECK(longest == 6);
}

TEST_CASE("stops are points, driven legs lines between them, in order of time") {
    const Json json = Json::parse(route());
    std::vector<std::string> kinds;
    for (const Json& feature : json["features"])
        kinds.push_back(feature["properties"]["kind"]);
    CHECK(kinds == std::vector<std::string>{"base", "leg", "walk", "scene", "leg", "walk", "meal", "leg", "walk", "bed",
                                            "bed", "scene"});
    const Json& walk = json["features"][2];
    CHECK(walk["properties"]["way"] == "in");
    CHECK(walk["properties"]["at"] == json["features"][3]["properties"]["name"]);
    CHECK(walk["properties"]["seconds"] == 240);
    CHECK(walk["geometry"]["coordinates"] == Json{{-8.4005, -35.2005}, {-8.401, -35.201}});
    const Json& leg = json["features"][1]["properties"];
    CHECK(leg["from"] == "Net loft");
    CHECK(leg["depart"] == "2027-05-14T04:12:00+00:00");
    CHECK(leg["arrive"] == "2027-05-14T04:58:00+00:00");
    CHECK(leg["seconds"] == 2760);
    CHECK(leg["metres"] == 31240.0);
    CHECK(leg["roads"][0] == Json{{"name", "Ring Road (A1)"}, {"metres", 12000.0}});
    CHECK(json["features"][1]["geometry"]["coordinates"][0] == Json{-8.4, -35.2});
    const Json& scene = json["features"][3]["properties"];
    CHECK(scene["id"] == "opening");
    CHECK(scene["day"] == "2027-05-14");
    CHECK(scene["light"]["name"] == "golden-morning");
    CHECK(json["features"][3]["geometry"]["coordinates"] == Json{-8.412346, -35.21});
}

TEST_CASE("a plan without stops is an empty collection without a box") {
    auto plan = made_plan();
    plan.days.clear();
    const Json json = Json::parse(cli::write_route(plan, made_shoot()));
    CHECK(json["features"].empty());
    CHECK_FALSE(json.contains("bbox"));
}
