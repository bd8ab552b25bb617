#include "geo/camera.hpp"

#include "tests/support/near.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <random>

using geo::AzimuthRange;
using geo::Degrees;
using geo::Lens;
using geo::margin;
using geo::SunBeside;
using geo::SunInFrame;
using geo::SunSide;
using geo::sky::SkyPosition;
using namespace geo::literals;
using support::near;

namespace {
bool is_met(const geo::SunDirection& wish, double azimuth, double altitude = 10.0) {
    return margin(wish, {{altitude}, {azimuth}}) >= 0.0;
}
} // namespace

TEST_CASE("sun's bearing beside the camera's goes the short way round, left negative") {
    CHECK(geo::relative_azimuth(120_deg, 90_deg) == 30_deg);
    CHECK(near(geo::relative_azimuth(10_deg, 350_deg), 20_deg, 1e-9_deg));
    CHECK(near(geo::relative_azimuth(350_deg, 10_deg), -20_deg, 1e-9_deg));
    CHECK(geo::relative_azimuth(270_deg, 90_deg) == 180_deg);
    CHECK(geo::relative_azimuth(90_deg, 270_deg) == 180_deg);
}

TEST_CASE("behind is behind the subject: where the camera looks") {
    const double facing = 240.0;
    for (int around = 0; around < 360; ++around) {
        const double azimuth = std::fmod(facing + around, 360.0);
        const int apart = around > 180 ? 360 - around : around;
        CAPTURE(around);
        if (apart != 45 && apart != 135) {
            CHECK(is_met(SunBeside{{facing}, SunSide::behind}, azimuth) == (apart < 45));
            CHECK(is_met(SunBeside{{facing}, SunSide::side}, azimuth) == (apart > 45 && apart < 135));
            CHECK(is_met(SunBeside{{facing}, SunSide::front}, azimuth) == (apart > 135));
        }
        // Own limits.
        if (apart != 20)
            CHECK(is_met(SunBeside{{facing}, SunSide::behind, 20_deg, 160_deg}, azimuth) == (apart < 20));
    }
}

TEST_CASE("a range of azimuths runs clockwise, through north where it must") {
    for (int azimuth = 0; azimuth < 360; ++azimuth) {
        if (azimuth != 235 && azimuth != 245)
            CHECK(is_met(AzimuthRange{235_deg, 245_deg}, azimuth) == (azimuth > 235 && azimuth < 245));
        if (azimuth != 350 && azimuth != 20)
            CHECK(is_met(AzimuthRange{350_deg, 20_deg}, azimuth) == (azimuth > 350 || azimuth < 20));
        if (azimuth != 350 && azimuth != 20) // the other way round, more than half
            CHECK(is_met(AzimuthRange{20_deg, 350_deg}, azimuth) == (azimuth > 20 && azimuth < 350));
    }
}

TEST_CASE("a lens shows what its angle of view takes in") {
    // 2 atan(w / 2f): 50 mm on 36 mm 39.598 degrees, 35 mm on 24.9 mm 39.162 degrees.
    CHECK(near(geo::horizontal_field_of_view(Lens{{50.0}}), 39.598_deg, 0.001_deg));
    CHECK(near(geo::horizontal_field_of_view(Lens{{35.0}, {24.9}}), 39.162_deg, 0.001_deg));
    CHECK(near(geo::vertical_field_of_view(Lens{{50.0}}), 26.991_deg, 0.001_deg));
    const SunInFrame wish{240_deg, Lens{{50.0}}};
    CHECK(is_met(wish, 240.0));
    CHECK(is_met(wish, 240.0 + 19.7, 0.0));
    CHECK(!is_met(wish, 240.0 + 19.9, 0.0));
    CHECK(is_met(wish, 240.0 - 19.7, 0.0));
    // Through the air the sun stands higher: 0.06 degrees at 13.4.
    CHECK(is_met(wish, 240.0, 13.41));
    CHECK(!is_met(wish, 240.0, 13.45));
    CHECK(!is_met(wish, 60.0)); // at the camera's back
    CHECK(is_met(SunInFrame{240_deg, Lens{{50.0}}, 40_deg}, 240.0, 40.0));
    CHECK(!is_met(SunInFrame{240_deg, Lens{{50.0}}, 40_deg}, 240.0, 10.0));
}

TEST_CASE("the angle from the lens axis is that between two directions") {
    std::mt19937 random(3);
    std::uniform_real_distribution<double> azimuth(0.0, 360.0);
    std::uniform_real_distribution<double> altitude(-89.0, 89.0);
    const double degree = 3.14159265358979323846 / 180.0;
    for (int i = 0; i < 500; ++i) {
        const SkyPosition sun{{altitude(random)}, {azimuth(random)}};
        const Degrees facing{azimuth(random)};
        const Degrees pitch{altitude(random)};
        // cos g = sin h sin p + cos h cos p cos d, spherical cosine rule.
        const double h = sun.altitude.value * degree;
        const double p = pitch.value * degree;
        const double d = (sun.azimuth - facing).value * degree;
        const double g = std::acos(std::sin(h) * std::sin(p) + std::cos(h) * std::cos(p) * std::cos(d)) / degree;
        CHECK(near(geo::angle_from_axis(sun, facing, pitch), {g}, 1e-5_deg));
    }
}
