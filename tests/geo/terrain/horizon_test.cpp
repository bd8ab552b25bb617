#include "geo/terrain/horizon.hpp"

#include "geo/geodesic.hpp"
#include "geo/terrain/sight_line.hpp"
#include "tests/geo/csv.hpp"
#include "tests/geo/terrain/tile_fixtures.hpp"
#include "tests/support/near.hpp"
#include "tests/support/shared_data.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <random>
#include <vector>

using namespace geo::literals;
using geo::Coordinate;
using geo::Degrees;
using geo::Metres;
using geo::terrain::ElevationSheet;
using geo::terrain::ElevationTile;
using geo::terrain::find_horizon;
using geo::terrain::HorizonPoint;
using geo::terrain::HorizonProfile;
using geo::terrain::HorizonSettings;
using geo::terrain::sight_angle;
using support::ground_around;
using support::near;

namespace {

constexpr double radians = std::numbers::pi / 180.0;
constexpr Coordinate valley{46.5_deg, 8.0_deg};
constexpr Degrees arc_second{1.0 / 3600.0};
/// As if the eye lay on the ground, so that ridges stand as high above it as above the ground.
constexpr HorizonSettings on_the_ground{.eye_height = 0_m};

ElevationSheet sheet_of(ElevationTile tile) {
    std::vector<ElevationTile> tiles;
    tiles.push_back(std::move(tile));
    return ElevationSheet(std::move(tiles));
}

/// A ridge all round, both flanks falling 2 m in 3 to the plain.
ElevationSheet ring(double radius, double height, Degrees half_side) {
    return sheet_of(ground_around(valley, half_side, arc_second, [=](double distance, double) {
        return std::max(0.0, height - std::abs(distance - radius) * 2.0 / 3.0);
    }));
}

Metres radius(double azimuth) {
    return geo::terrain::radius_of_curvature(valley.latitude, {azimuth});
}

} // namespace

TEST_CASE("ground stands at the angle the formula gives") {
    // Derived: atan((H - d^2 (1 - k) / 2R) / d), R = 6371 km, k = 0.13.
    struct Row {
        double distance, height, angle;
    };
    for (const Row& row : {Row{1000, 100, 5.70672}, Row{5000, 500, 5.69123}, Row{10000, 1000, 5.67186},
                           Row{20000, 1000, 2.78435}, Row{50000, 2000, 2.09529}, Row{100000, 3000, 1.32743}})
        CHECK(near(sight_angle({row.height}, {row.distance}, {6371000.0}, 0.13), {row.angle}, 0.00001_deg));
}

TEST_CASE("the curved Earth and the air take as much off a far ridge as the formula says") {
    // Derived: d^2 (1 - k) / 2R, R = 6371 km.
    struct Row {
        double distance, without_air, with_air;
    };
    for (const Row& row : {Row{1000, 0.078, 0.068}, Row{5000, 1.962, 1.707}, Row{10000, 7.848, 6.828},
                           Row{20000, 31.392, 27.311}, Row{50000, 196.2, 170.7}, Row{100000, 784.8, 682.8}}) {
        const double tolerance = row.distance > 20000.0 ? 0.05 : 0.0005;
        CHECK(near(geo::terrain::curvature_drop({row.distance}, {6371000.0}, 0.0), {row.without_air}, {tolerance}));
        CHECK(near(geo::terrain::curvature_drop({row.distance}, {6371000.0}, 0.13), {row.with_air}, {tolerance}));
    }
}

TEST_CASE("every horizon angle and drop of the check table comes out") {
    const auto file = support::shared_data("light_checks.csv");
    if (!file)
        return;
    const auto value_of = [](const std::string& input, const std::string& name) {
        const auto at = input.find(name + "=");
        REQUIRE(at != std::string::npos);
        return std::stod(input.substr(at + name.size() + 1));
    };
    int angles = 0;
    int drops = 0;
    for (const auto& row : support::read_csv(*file)) {
        const std::string& quantity = row.at("quantity");
        if (quantity != "terrain_horizon_angle" && quantity != "curvature_refraction_drop")
            continue;
        const std::string& input = row.at("input");
        const double expected = std::stod(row.at("expected"));
        const double tolerance = std::stod(row.at("tolerance"));
        const Metres distance{value_of(input, "d_m")};
        CAPTURE(input);
        if (quantity == "terrain_horizon_angle") {
            ++angles;
            CHECK(near(sight_angle({value_of(input, "H_m")}, distance, {6371000.0}, 0.13), {expected}, {tolerance}));
        } else {
            ++drops;
            CHECK(near(geo::terrain::curvature_drop(distance, {6371000.0}, 0.13), {expected}, {tolerance}));
        }
    }
    CHECK(angles == 6);
    CHECK(drops == 6);
}

TEST_CASE("a ring of hills stands equally high all round") {
    // 1000 m at 10 km: the grid clips the crest by at most flank slope x half a cell / distance = 0.06 degrees.
    const auto horizon = find_horizon(ring(10000.0, 1000.0, 0.2_deg), valley, on_the_ground);
    REQUIRE(horizon);
    for (std::size_t index = 0; index < HorizonProfile::azimuths; ++index) {
        const double azimuth = static_cast<double>(index) / 2.0;
        const HorizonPoint& point = horizon->points()[index];
        CAPTURE(azimuth);
        const Degrees expected = sight_angle(1000_m, 10000_m, radius(azimuth), 0.13);
        CHECK(point.angle <= expected + 0.001_deg);
        CHECK(near(point.angle, expected, 0.06_deg));
        CHECK(near(point.distance, 10000_m, 50_m));
    }
}

TEST_CASE("a ring thirty kilometres away stands lower, and within its smaller error") {
    const auto horizon = find_horizon(ring(30000.0, 1000.0, 0.45_deg), valley, on_the_ground);
    REQUIRE(horizon);
    for (std::size_t index = 0; index < HorizonProfile::azimuths; ++index)
        CHECK(near(horizon->points()[index].angle,
                   sight_angle(1000_m, 30000_m, radius(static_cast<double>(index) / 2.0), 0.13), 0.03_deg));
}

TEST_CASE("a cone of a mountain shows its outline") {
    // 1500 m high, 12 km east, 4 km of foot: the highest sight line at each azimuth, by fine search over the cone.
    constexpr double height = 1500.0;
    constexpr double foot = 4000.0;
    constexpr double away = 12000.0;
    const auto cone = [](double distance, double azimuth) {
        const double east = distance * std::sin(azimuth * radians) - away;
        const double north = distance * std::cos(azimuth * radians);
        return std::max(0.0, height * (1.0 - std::hypot(east, north) / foot));
    };
    const auto horizon =
        find_horizon(sheet_of(ground_around(valley, 0.25_deg, arc_second, cone)), valley, on_the_ground);
    REQUIRE(horizon);
    for (int half = 150; half <= 210; ++half) {
        const double azimuth = half / 2.0;
        double best = -90.0;
        for (int metre = 5000; metre < 17000; ++metre) {
            const double distance = metre;
            best = std::max(best, sight_angle({cone(distance, azimuth)}, {distance}, radius(azimuth), 0.13).value);
        }
        CAPTURE(azimuth);
        CHECK(near(horizon->angle({azimuth}), {best}, 0.04_deg));
    }
    CHECK(horizon->angle(270_deg) < 0_deg);
}

TEST_CASE("a straight wall sinks towards its ends") {
    // 800 m, 8 km west: derived from the formula at 8 km / cos(azimuth - 270), R = 6371 km.
    const auto wall = [](double distance, double azimuth) {
        return std::max(0.0, 800.0 - std::abs(distance * std::sin(azimuth * radians) + 8000.0) * 2.0 / 3.0);
    };
    const auto horizon =
        find_horizon(sheet_of(ground_around(valley, 0.3_deg, arc_second, wall)), valley, on_the_ground);
    REQUIRE(horizon);
    CHECK(near(horizon->angle(270_deg), 5.6797_deg, 0.05_deg));
    CHECK(near(horizon->angle(285_deg), 5.4852_deg, 0.05_deg));
    CHECK(near(horizon->angle(300_deg), 4.9138_deg, 0.05_deg));
    CHECK(near(horizon->angle(330_deg), 2.8000_deg, 0.05_deg));
}

TEST_CASE("a ridge only the finer of two tiles knows is seen over the coarse plain") {
    const auto plain = [](double, double) { return 100.0; };
    for (const double bearing : {40.0, 130.0, 220.0, 310.0}) {
        std::vector<ElevationTile> tiles;
        tiles.push_back(ground_around(valley, 0.4_deg, 3.0 * arc_second, plain));
        const Coordinate hill = geo::destination(valley, {bearing}, 20000_m);
        tiles.push_back(ground_around(hill, 0.03_deg, arc_second, [](double distance, double) {
            return std::max(100.0, 1100.0 - distance * 2.0 / 3.0);
        }));
        const auto horizon = find_horizon(ElevationSheet(std::move(tiles)), valley, on_the_ground);
        REQUIRE(horizon);
        CAPTURE(bearing);
        CHECK(near(horizon->angle({bearing}), sight_angle(1000_m, 20000_m, radius(bearing), 0.13), 0.04_deg));
        CHECK(near(horizon->points()[static_cast<std::size_t>(2 * bearing)].distance, 20000_m, 60_m));
        CHECK(horizon->angle({bearing + 180.0}) < 0.02_deg);
    }
}

TEST_CASE("the horizon says how far the ground is known in each direction") {
    // 20 km of ground to every side, with a gap 5 to 6 km east.
    const auto ground = [](double distance, double azimuth) {
        const bool gap = distance > 5000.0 && distance < 6000.0 && std::abs(azimuth - 90.0) < 20.0;
        return gap ? std::nan("") : 100.0;
    };
    const auto sheet = sheet_of(ground_around(valley, 0.18_deg, 3.0 * arc_second, ground));
    CHECK(sheet.tiles().front().unknown > 100);
    const auto horizon = find_horizon(sheet, valley);
    REQUIRE(horizon);
    CHECK(near(horizon->known_to(0_deg), 20010_m, 150_m)); // 0.18 degrees of latitude at 46.5 north
    CHECK(near(horizon->known_to(90_deg), 5000_m, 100_m));
    CHECK(horizon->known_to(90_deg) < 5000_m);
    CHECK(horizon->known_to(270_deg) < 60000_m);
    CHECK(near(horizon->known_all_round(), 5000_m, 150_m));
    const auto wide = sheet_of(ground_around(valley, 1_deg, 60.0 * arc_second, [](double, double) { return 100.0; }));
    CHECK(find_horizon(wide, valley)->known_all_round() == 60000_m);
}

TEST_CASE("from a lone summit the horizon dips to the sea's and no lower") {
    // Derived: the greatest of -z / s - s (1 - k) / 2R is -sqrt(2 (1 - k) z / R), at s = sqrt(2 R z / (1 - k)).
    const auto peak = [](double distance, double) { return std::max(0.0, 2000.0 - distance / 2.0); };
    const auto horizon = find_horizon(sheet_of(ground_around(valley, 0.1_deg, 3.0 * arc_second, peak)), valley);
    REQUIRE(horizon);
    for (const double azimuth : {0.0, 45.0, 123.5, 270.0}) {
        const double dip = std::atan(std::sqrt(2.0 * 0.87 * 2001.7 / radius(azimuth).value)) / radians;
        CHECK(near(horizon->angle({azimuth}), {-dip}, 0.0005_deg));
        CHECK(near(horizon->ridge_distance({azimuth}), {171000.0}, 2000_m));
    }
}

TEST_CASE("a place on unknown ground has no horizon, one off the Earth is an error") {
    const auto sheet = ring(2000.0, 100.0, 0.05_deg);
    CHECK_FALSE(find_horizon(sheet, {47_deg, 8_deg}));
    CHECK_THROWS_AS((void)find_horizon(sheet, {91_deg, 8_deg}), std::domain_error);
    CHECK_THROWS_AS((void)find_horizon(sheet, {46.5_deg, {std::nan("")}}), std::domain_error);
}

TEST_CASE("a horizon does not change when its tile lies across the 180th meridian or south of the equator") {
    const auto hills = [](double distance, double azimuth) {
        return 300.0 + 200.0 * std::sin(distance / 700.0) * std::cos(azimuth * radians * 7.0);
    };
    const auto angles_at = [&](Coordinate centre) {
        return find_horizon(sheet_of(ground_around(centre, 0.1_deg, 3.0 * arc_second, hills)), centre)->points();
    };
    const auto here = angles_at({-17_deg, 8_deg});
    const auto there = angles_at({-17_deg, -180_deg});
    for (std::size_t index = 0; index < here.size(); ++index)
        CHECK(near(here[index].angle, there[index].angle, 1e-3_deg));
}

TEST_CASE("between two azimuths the angle is linear, and round and round the same") {
    auto points = HorizonProfile::level(0_deg).points();
    points[719].angle = 2_deg;
    points[0].angle = 4_deg;
    points[200].angle = -3_deg;
    const HorizonProfile horizon(points, 0_m, {});
    CHECK(near(horizon.angle(359.75_deg), 3_deg, 1e-12_deg));
    CHECK(near(horizon.angle(-0.25_deg), 3_deg, 1e-12_deg));
    CHECK(near(horizon.angle(0.1_deg), 3.2_deg, 1e-12_deg));
    CHECK(near(horizon.angle(720_deg), 4_deg, 1e-12_deg));
    CHECK(near(horizon.angle(-1e-18_deg), 4_deg, 1e-9_deg));
    const auto [low, high] = horizon.lowest_and_highest(50_deg, 60_deg);
    CHECK(low == -3_deg); // at 100
    CHECK(high == 4_deg);
}

TEST_CASE("the range of angles over an arc holds every angle in it") {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> any(-5.0, 30.0);
    auto points = HorizonProfile::level(0_deg).points();
    for (HorizonPoint& point : points)
        point.angle = {any(random)};
    const HorizonProfile horizon(points, 0_m, {});
    std::uniform_real_distribution<double> azimuths(0.0, 360.0);
    std::uniform_real_distribution<double> widths(0.0, 180.0);
    for (int n = 0; n < 500; ++n) {
        const double azimuth = azimuths(random);
        const double width = n % 2 == 0 ? widths(random) : widths(random) / 100.0;
        const auto [low, high] = horizon.lowest_and_highest({azimuth}, {width});
        double lowest = 90.0;
        double highest = -90.0;
        for (int part = -2500; part <= 2500; ++part) {
            const double at = azimuth + width * part / 2500.0;
            lowest = std::min(lowest, horizon.angle({at}).value);
            highest = std::max(highest, horizon.angle({at}).value);
        }
        CHECK(low.value <= lowest + 1e-9);
        CHECK(high.value >= highest - 1e-9);
        CHECK(low.value >= lowest - 5.0); // and not all of the circle's
    }
}
