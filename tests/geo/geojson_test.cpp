#include "geo/geojson.hpp"

#include "geo/json_text.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <cmath>
#include <limits>
#include <random>
#include <stdexcept>
#include <vector>

using geo::Coordinate;
using namespace geo::literals;
using nlohmann::ordered_json;

namespace {

/// Twice the signed area in longitude and latitude, positive when counter-clockwise.
double doubled_area(const ordered_json& ring) {
    double sum = 0.0;
    for (std::size_t i = 1; i < ring.size(); ++i)
        sum += ring[i - 1][0].get<double>() * ring[i][1].get<double>() -
               ring[i][0].get<double>() * ring[i - 1][1].get<double>();
    return sum;
}

std::size_t decimals(const std::string& number) {
    const std::size_t dot = number.find('.');
    return dot == std::string::npos ? 0 : number.size() - dot - 1;
}

} // namespace

TEST_CASE("points are written longitude first") {
    CHECK(geo::geojson::point({47.1_deg, 9.5_deg}) ==
          ordered_json::parse(R"({"type": "Point", "coordinates": [9.5, 47.1]})"));
}

TEST_CASE("coordinates are rounded to six decimals, exactly, and print so") {
    CHECK(geo::json_text(geo::geojson::point({47.123456789_deg, -9.9999995001_deg})["coordinates"]) ==
          "[-10.0, 47.123457]\n");
    // 0.0000005 is in binary a little under the half; multiplying by a million first would round it up.
    CHECK(geo::json_text(geo::geojson::point({0.0000005_deg, -0.0000001_deg})["coordinates"]) == "[0.0, 0.0]\n");
    // The document's own writer fails on one number in 650 of these, printing 17 digits.
    CHECK(geo::json_text(geo::geojson::point({0.021049_deg, 0.037151_deg})["coordinates"]) == "[0.037151, 0.021049]\n");
    std::mt19937 random(17);
    std::uniform_real_distribution<double> latitude(-90.0, 90.0);
    std::uniform_real_distribution<double> longitude(-180.0, 180.0);
    for (int i = 0; i < 100'000; ++i) {
        const Coordinate place{{latitude(random)}, {longitude(random)}};
        const auto position = geo::geojson::point(place)["coordinates"];
        for (const auto& [number, exact] : {std::pair{position[0], place.longitude}, {position[1], place.latitude}}) {
            std::string text = geo::json_text(number);
            text.pop_back();
            if (decimals(text) > 6)
                CHECK_MESSAGE(decimals(text) <= 6, text);
            if (std::abs(std::stod(text) - exact.value) > 0.5e-6 + 1e-13)
                CHECK(std::stod(text) == exact.value);
        }
    }
}

TEST_CASE("lines keep their points") {
    CHECK(geo::geojson::line({{1_deg, 2_deg}, {3_deg, 4_deg}, {3_deg, 4_deg}}) ==
          ordered_json::parse(R"({"type": "LineString", "coordinates": [[2.0, 1.0], [4.0, 3.0], [4.0, 3.0]]})"));
    // Half a turn is the short way round on either side; points stay as written.
    CHECK(geo::geojson::line({{0_deg, 0_deg}, {0_deg, 180_deg}})["type"] == "LineString");
    CHECK(geo::geojson::line({{0_deg, 180_deg}, {0_deg, 0_deg}, {0_deg, -180_deg}})["coordinates"] ==
          ordered_json::parse("[[180.0, 0.0], [0.0, 0.0], [-180.0, 0.0]]"));
}

TEST_CASE("lines are cut at the antimeridian") {
    // RFC 7946, section 3.1.9: from 45 N 170 E to 45 N 170 W.
    CHECK(geo::geojson::line({{45_deg, 170_deg}, {45_deg, -170_deg}}) ==
          ordered_json::parse(R"({"type": "MultiLineString",
                                  "coordinates": [[[170.0, 45.0], [180.0, 45.0]], [[-180.0, 45.0], [-170.0, 45.0]]]})"));
    // There and back again, at slants.
    CHECK(geo::geojson::line({{0_deg, -179_deg}, {2_deg, 179_deg}, {4_deg, -179_deg}})["coordinates"] ==
          ordered_json::parse("[[[-179.0, 0.0], [-180.0, 1.0]], [[180.0, 1.0], [179.0, 2.0], [180.0, 3.0]],"
                              " [[-180.0, 3.0], [-179.0, 4.0]]]"));
}

TEST_CASE("a point on the antimeridian belongs to the side the line is on") {
    for (const auto on_it : {180_deg, -180_deg}) {
        // Only touched: no cut, one line.
        CHECK(geo::geojson::line({{0_deg, 179_deg}, {0_deg, on_it}, {1_deg, 179_deg}}) ==
              ordered_json::parse(
                  R"({"type": "LineString", "coordinates": [[179.0, 0.0], [180.0, 0.0], [179.0, 1.0]]})"));
        // Crossed there: cut without doubling the point.
        CHECK(geo::geojson::line({{0_deg, 179_deg}, {0_deg, on_it}, {1_deg, -179_deg}})["coordinates"] ==
              ordered_json::parse("[[[179.0, 0.0], [180.0, 0.0]], [[-180.0, 0.0], [-179.0, 1.0]]]"));
        // Starting or ending on it.
        CHECK(geo::geojson::line({{0_deg, on_it}, {1_deg, -179_deg}})["coordinates"] ==
              ordered_json::parse("[[-180.0, 0.0], [-179.0, 1.0]]"));
        CHECK(geo::geojson::line({{1_deg, -179_deg}, {0_deg, on_it}})["coordinates"] ==
              ordered_json::parse("[[-179.0, 1.0], [-180.0, 0.0]]"));
    }
    // Along it.
    CHECK(geo::geojson::line({{0_deg, 180_deg}, {1_deg, -180_deg}})["coordinates"] ==
          ordered_json::parse("[[180.0, 0.0], [180.0, 1.0]]"));
}

TEST_CASE("no piece of a random line crosses the antimeridian, and the pieces join up") {
    std::mt19937 random(23);
    std::uniform_real_distribution<double> latitude(-80.0, 80.0);
    std::uniform_int_distribution<int> longitude(-180, 180); // whole degrees: often on the meridian itself
    for (int i = 0; i < 2000; ++i) {
        std::vector<Coordinate> points;
        for (int k = 0; k < 6; ++k)
            points.push_back({{latitude(random)}, {static_cast<double>(longitude(random))}});
        const auto geometry = geo::geojson::line(points);
        const auto parts =
            geometry["type"] == "LineString" ? ordered_json::array({geometry["coordinates"]}) : geometry["coordinates"];
        for (std::size_t k = 0; k < parts.size(); ++k) {
            REQUIRE(parts[k].size() >= 2);
            for (std::size_t j = 1; j < parts[k].size(); ++j)
                CHECK(std::abs(parts[k][j][0].get<double>() - parts[k][j - 1][0].get<double>()) <= 180.0);
            if (k > 0) {
                CHECK(std::abs(parts[k - 1].back()[0].get<double>()) == 180.0);
                CHECK(parts[k].front()[0].get<double>() == -parts[k - 1].back()[0].get<double>());
                CHECK(parts[k].front()[1] == parts[k - 1].back()[1]);
            }
        }
    }
}

TEST_CASE("polygons are closed and run counter-clockwise, whichever way they came") {
    const std::vector<Coordinate> clockwise{{0_deg, 0_deg}, {1_deg, 0_deg}, {1_deg, 1_deg}, {0_deg, 1_deg}};
    const std::vector<Coordinate> counter(clockwise.rbegin(), clockwise.rend());
    for (const auto& ring : {clockwise, counter}) {
        const auto geometry = geo::geojson::polygon(ring);
        CHECK(geometry["type"] == "Polygon");
        REQUIRE(geometry["coordinates"].size() == 1);
        const auto& written = geometry["coordinates"][0];
        CHECK(written.size() == 5);
        CHECK(written.front() == written.back());
        CHECK(doubled_area(written) == 2.0);
    }
    std::vector<Coordinate> closed = clockwise;
    closed.push_back(clockwise.front());
    CHECK(geo::geojson::polygon(closed) == geo::geojson::polygon(clockwise));
}

TEST_CASE("polygons are cut at the antimeridian") {
    // RFC 7946, section 3.1.9: the rectangle from 40 N 170 E to 50 N 170 W.
    const auto geometry =
        geo::geojson::polygon({{40_deg, 170_deg}, {40_deg, -170_deg}, {50_deg, -170_deg}, {50_deg, 170_deg}});
    CHECK(geometry["type"] == "MultiPolygon");
    REQUIRE(geometry["coordinates"].size() == 2);
    for (const auto& piece : geometry["coordinates"]) {
        REQUIRE(piece.size() == 1);
        CHECK(doubled_area(piece[0]) == 200.0);
        for (const auto& corner : piece[0])
            CHECK((std::abs(corner[0].get<double>()) == 180.0 || std::abs(corner[0].get<double>()) == 170.0));
    }
    CHECK(geometry["coordinates"][0][0][0][0] > 0.0);
    CHECK(geometry["coordinates"][1][0][0][0] < 0.0);
    // A horseshoe that opens to the west falls into three pieces.
    const auto horseshoe = geo::geojson::polygon({{0_deg, 178_deg},
                                                  {0_deg, -178_deg},
                                                  {3_deg, -178_deg},
                                                  {3_deg, 178_deg},
                                                  {2_deg, 178_deg},
                                                  {2_deg, -179_deg},
                                                  {1_deg, -179_deg},
                                                  {1_deg, 178_deg}});
    CHECK(horseshoe["coordinates"].size() == 3);
    // An edge along it is no crossing.
    for (const auto edge : {180_deg, -180_deg})
        for (const auto inner : {179_deg, -179_deg})
            CHECK(geo::geojson::polygon({{0_deg, inner}, {0_deg, edge}, {1_deg, edge}, {1_deg, inner}})["type"] ==
                  "Polygon");
}

TEST_CASE("boxes hold all points and cross the antimeridian when that is narrower") {
    CHECK(geo::geojson::bounding_box({{1_deg, 2_deg}, {-3_deg, 4_deg}}) ==
          ordered_json::parse("[2.0, -3.0, 4.0, 1.0]"));
    // RFC 7946, section 5.2: the Fiji archipelago, 16 to 20 S, 177 E to 178 W.
    CHECK(geo::geojson::bounding_box({{-16_deg, 177_deg}, {-20_deg, -178_deg}, {-18_deg, 179_deg}}) ==
          ordered_json::parse("[177.0, -20.0, -178.0, -16.0]"));
    CHECK(geo::geojson::bounding_box({{5_deg, 6_deg}}) == ordered_json::parse("[6.0, 5.0, 6.0, 5.0]"));
    // Half the globe either way: the box that does not cross.
    CHECK(geo::geojson::bounding_box({{0_deg, -90_deg}, {0_deg, 90_deg}}) ==
          ordered_json::parse("[-90.0, 0.0, 90.0, 0.0]"));
}

TEST_CASE("what is no geometry is refused") {
    const double none = std::numeric_limits<double>::quiet_NaN();
    const double endless = std::numeric_limits<double>::infinity();
    CHECK_THROWS_AS(geo::geojson::point({{none}, 0_deg}), std::domain_error);
    CHECK_THROWS_AS(geo::geojson::point({0_deg, {endless}}), std::domain_error);
    CHECK_THROWS_AS(geo::geojson::point({90.5_deg, 0_deg}), std::domain_error);
    CHECK_THROWS_AS(geo::geojson::line({{0_deg, 0_deg}, {0_deg, {none}}}), std::domain_error);
    CHECK_THROWS_AS(geo::geojson::line({{0_deg, 0_deg}}), std::domain_error);
    CHECK_THROWS_AS(geo::geojson::line({}), std::domain_error);
    CHECK_THROWS_AS(geo::geojson::polygon({}), std::domain_error);
    CHECK_THROWS_AS(geo::geojson::polygon({{0_deg, 0_deg}, {1_deg, 1_deg}, {0_deg, 0_deg}}), std::domain_error);
    CHECK_THROWS_AS(geo::geojson::polygon({{0_deg, 0_deg}, {1_deg, 1_deg}, {2_deg, 2_deg}}), std::domain_error);
    CHECK_THROWS_AS(geo::geojson::polygon({{80_deg, 0_deg}, {80_deg, 120_deg}, {80_deg, -120_deg}}), std::domain_error);
    CHECK_THROWS_AS(geo::geojson::polygon({{80_deg, {none}}, {80_deg, 120_deg}, {0_deg, 0_deg}}), std::domain_error);
    CHECK_THROWS_AS(geo::geojson::bounding_box({}), std::domain_error);
    CHECK_THROWS_AS(geo::geojson::bounding_box({{0_deg, {none}}}), std::domain_error);
}
