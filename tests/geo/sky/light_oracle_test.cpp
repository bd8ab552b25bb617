/// Illuminance, moonlit sky, shadows, camera and fixed places against every such row of the optional check file.

#include "geo/camera.hpp"
#include "geo/sky/crossing_search.hpp"
#include "geo/sky/earth_rotation.hpp"
#include "geo/sky/illuminance.hpp"
#include "geo/sky/moonlit_sky.hpp"
#include "geo/sky/observer.hpp"
#include "tests/geo/sky/check_row.hpp"
#include "tests/support/shared_data.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <map>
#include <sstream>
#include <string>

using geo::Degrees;
using geo::sky::PreciseInstant;
using geo::sky::PreciseSeconds;
using support::Check;

namespace {

constexpr double degree = 3.14159265358979323846 / 180.0;

/// A body of known place of date; its right ascension counts from the equinox, ours from the intermediate origin.
geo::sky::SkyPosition fixed_place(const Check& check) {
    const double from_equinox =
        (geo::sky::apparent_sidereal_time(check.when()) - geo::sky::earth_rotation_angle(check.when())).value;
    const double ascension = (check.input("ra_deg") - from_equinox) * degree;
    const double declination = check.input("dec_deg") * degree;
    return geo::sky::Observer(check.place(), check.elevation())
        .view({1e9 * std::cos(declination) * std::cos(ascension), 1e9 * std::cos(declination) * std::sin(ascension),
               1e9 * std::sin(declination)},
              check.when());
}

std::array<double, 3> triple(const std::string& text) {
    std::array<double, 3> values{};
    std::istringstream input(text);
    for (double& value : values) {
        input >> value;
        input.ignore(1);
    }
    return values;
}

/// Meeus' chapter 15 by our search: places of three days interpolated, the day's sidereal time given.
struct VenusDay {
    explicit VenusDay(const Check& check)
        : ascension(triple(check.input_text("ra_deg"))), declination(triple(check.input_text("dec_deg"))),
          sidereal(check.input("gast0_deg")), delta(check.input("deltat_s")), place(check.place()) {}

    double interpolated(const std::array<double, 3>& y, double day) const {
        const double n = day + delta / 86400.0; // Meeus' formula 3.3
        return y[1] + n / 2.0 * (y[2] - y[0] + n * (y[2] - 2.0 * y[1] + y[0]));
    }
    double hour_angle(double day) const {
        return std::remainder(sidereal + 360.985647 * day + place.longitude.value - interpolated(ascension, day),
                              360.0);
    }
    double altitude(double day) const {
        const double d = interpolated(declination, day) * degree;
        const double b = place.latitude.value * degree;
        return std::asin(std::sin(b) * std::sin(d) + std::cos(b) * std::cos(d) * std::cos(hour_angle(day) * degree)) /
               degree;
    }
    /// Fraction of the day at which `value` crosses zero in the wanted direction.
    static double crossing(const std::function<double(double)>& value, bool rising) {
        const PreciseInstant start{};
        const auto found =
            geo::sky::find_crossings([&](PreciseInstant t) { return value((t - start).count() / 86400.0); },
                                     {start, start + PreciseSeconds{86400.0}});
        for (const auto& crossing : found)
            if (crossing.rising == rising)
                return (crossing.when - start).count() / 86400.0;
        return NAN;
    }

    std::array<double, 3> ascension, declination;
    double sidereal, delta;
    geo::Coordinate place;
};

const std::map<std::string, std::function<double(const Check&)>>& found_values() {
    static const std::map<std::string, std::function<double(const Check&)>> table{
        {"clear_sky_illuminance",
         [](const Check& c) { return geo::sky::clear_sky_illuminance({c.input("sun_alt_deg")}).value; }},
        {"cloud_global_ratio", [](const Check& c) { return geo::sky::cloud_global_ratio({c.input("okta")}); }},
        {"cloud_diffuse_share", [](const Check& c) { return geo::sky::cloud_diffuse_share({c.input("okta")}); }},
        {"shadow_length_ratio",
         [](const Check& c) { return geo::sky::shadow_length_ratio({c.input("sun_alt_deg")}).value(); }},
        {"moonlight_sky_V",
         [](const Check& c) {
             return geo::sky::moonlit_sky({{c.input("z_deg")}, {c.input("zmoon_deg")}, {c.input("sep_deg")}},
                                          {c.input("phase_angle_deg")}, c.input("k"))
                 .value;
         }},
        {"relative_azimuth",
         [](const Check& c) { return geo::relative_azimuth({c.input("sun_az_deg")}, {c.input("cam_az_deg")}).value; }},
        {"hfov",
         [](const Check& c) {
             return geo::horizontal_field_of_view({{c.input("focal_mm")}, {c.input("sensor_w_mm")}}).value;
         }},
        {"star_alt_from_radec", [](const Check& c) { return fixed_place(c).altitude.value; }},
        {"star_az_from_radec", [](const Check& c) { return fixed_place(c).azimuth.value; }},
        {"venus_rise",
         [](const Check& c) {
             const VenusDay venus(c);
             return VenusDay::crossing([&](double day) { return venus.altitude(day) - c.input("h0_deg"); }, true);
         }},
        {"venus_set",
         [](const Check& c) {
             const VenusDay venus(c);
             return VenusDay::crossing([&](double day) { return venus.altitude(day) - c.input("h0_deg"); }, false);
         }},
        {"venus_transit",
         [](const Check& c) {
             const VenusDay venus(c);
             return VenusDay::crossing([&](double day) { return std::sin(venus.hour_angle(day) * degree); }, true);
         }},
    };
    return table;
}

} // namespace

TEST_CASE("every row of illuminance, moonlight, shadow, camera and fixed places is met within its tolerance") {
    const auto file = support::shared_data("light_checks.csv");
    if (!file)
        return;
    std::map<std::string, std::pair<int, double>> met;
    int rows = 0;
    for (const auto& row : support::read_csv(*file)) {
        const auto rule = found_values().find(row.at("quantity"));
        if (rule == found_values().end())
            continue;
        const Check check{row};
        CAPTURE(check.text("quantity"));
        CAPTURE(check.text("input"));
        const double found = rule->second(check);
        CAPTURE(found);
        CAPTURE(check.expected());
        const double off = std::abs(found - check.expected());
        CHECK(off <= check.number("tolerance"));
        auto& [count, worst] = met[check.text("quantity")];
        ++count;
        worst = std::max(worst, off);
        ++rows;
    }
    CHECK(met.size() == found_values().size());
    CHECK(rows == 39);
    for (const auto& [quantity, tally] : met)
        MESSAGE(quantity, ": ", tally.first, " rows, worst ", tally.second);
}
