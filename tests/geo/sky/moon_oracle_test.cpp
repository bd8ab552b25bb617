/// The moon against every row of the optional check files.

#include "geo/sky/moon.hpp"
#include "geo/sky/moon_events.hpp"
#include "geo/sky/moon_phase.hpp"
#include "geo/sky/refraction.hpp"
#include "tests/geo/sky/check_row.hpp"
#include "tests/support/shared_data.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <optional>
#include <string>

using geo::Coordinate;
using geo::Degrees;
using geo::Instant;
using geo::sky::MoonPhase;
using namespace geo::literals;
using namespace std::chrono_literals;
using support::Check;
using support::precise_utc;
using support::utc;

namespace {

std::optional<Instant> first_crossing(Coordinate place, geo::Metres elevation, bool rising, Instant from) {
    for (const auto& event : geo::sky::moon_crossings(place, elevation, {from, from + 72h}))
        if (event.rising == rising)
            return event.when;
    return std::nullopt;
}

double seconds_off(const Check& check, std::optional<Instant> found) {
    REQUIRE(found);
    return (geo::sky::precise(*found) - precise_utc(check.text("expected"))).count();
}

support::CheckError crossing_error(bool rising) {
    return [=](const Check& check) {
        return seconds_off(check,
                           first_crossing(check.place(), check.elevation(), rising, utc(check.text("date_utc"))));
    };
}

support::CheckError phase_error(MoonPhase phase) {
    return [=](const Check& check) {
        return seconds_off(check, geo::sky::next_moon_phase(phase, utc(check.text("date_utc"))));
    };
}

/// What each quantity's row is off by, in the row's unit.
const std::map<std::string, support::CheckError>& errors() {
    const auto view = [](const Check& c) {
        return geo::sky::moon_position(c.place(), c.elevation(), utc(c.text("date_utc")));
    };
    const auto moon = [](const Check& c) { return geo::sky::moon_place(c.when()); };
    static const std::map<std::string, support::CheckError> table{
        {"moonrise", crossing_error(true)},
        {"moonset", crossing_error(false)},
        {"moon_phase_new", phase_error(MoonPhase::new_moon)},
        {"moon_phase_first_quarter", phase_error(MoonPhase::first_quarter)},
        {"moon_phase_full", phase_error(MoonPhase::full)},
        {"moon_phase_last_quarter", phase_error(MoonPhase::last_quarter)},
        {"moon_alt_airless_topo", [=](const Check& c) { return view(c).altitude.value - c.expected(); }},
        {"moon_az", [=](const Check& c) { return std::remainder(view(c).azimuth.value - c.expected(), 360.0); }},
        {"moon_alt_refracted_1010hPa_10C",
         [=](const Check& c) {
             const Degrees altitude = view(c).altitude;
             return (altitude + geo::sky::refraction_from_true(altitude)).value - c.expected();
         }},
        {"moon_ecl_lon_apparent", [=](const Check& c) { return moon(c).ecliptic_longitude.value - c.expected(); }},
        {"moon_ecl_lat", [=](const Check& c) { return moon(c).ecliptic_latitude.value - c.expected(); }},
        {"moon_distance", [=](const Check& c) { return moon(c).distance.value / 1000.0 - c.expected(); }},
        {"moon_ra_apparent_geocentric", [=](const Check& c) { return moon(c).right_ascension.value - c.expected(); }},
        {"moon_dec_apparent_geocentric", [=](const Check& c) { return moon(c).declination.value - c.expected(); }},
        {"moon_horizontal_parallax", [=](const Check& c) { return moon(c).horizontal_parallax.value - c.expected(); }},
        {"moon_phase_angle",
         [=](const Check& c) { return geo::sky::moon_illumination(c.when()).phase_angle.value - c.expected(); }},
        {"moon_illuminated_fraction",
         [=](const Check& c) { return geo::sky::moon_illumination(c.when()).fraction - c.expected(); }},
    };
    return table;
}

} // namespace

TEST_CASE("every moon row of the check file is met within its tolerance") {
    auto met = support::checked_rows(errors());
    if (!met)
        return;
    CHECK((*met)["moon_alt_airless_topo"] == 30);
    CHECK((*met)["moon_phase_new"] == 26);
}

TEST_CASE("moon agrees with JPL DE405 in place, light and every moonrise and moonset") {
    const auto file = support::shared_data("sun_moon_oracle.csv");
    if (!file)
        return;
    double worst_angle = 0.0;
    double worst_fraction = 0.0;
    double worst_event = 0.0;
    int rows = 0;
    int events = 0;
    int absent = 0;
    for (const auto& row : support::read_csv(*file)) {
        const auto number = [&](const char* name) { return std::stod(row.at(name)); };
        const Coordinate place{{number("lat")}, {number("lon")}};
        const Instant when = utc(row.at("utc"));
        CAPTURE(row.at("id"));
        const auto moon = geo::sky::moon_position(place, 0_m, when);
        const double cosine = std::cos(number("moon_alt_topocentric_deg") * 3.14159265358979 / 180.0);
        const double altitude_off = std::abs(moon.altitude.value - number("moon_alt_topocentric_deg"));
        const double azimuth_off = std::abs(std::remainder(moon.azimuth.value - number("moon_az_deg"), 360.0)) * cosine;
        const double fraction_off =
            std::abs(geo::sky::moon_illumination(geo::sky::precise(when)).fraction - number("moon_illum"));
        CHECK(altitude_off <= 0.004);
        CHECK(azimuth_off <= 0.004);
        CHECK(fraction_off <= 0.0003);
        worst_angle = std::max({worst_angle, altitude_off, azimuth_off});
        worst_fraction = std::max(worst_fraction, fraction_off);
        ++rows;
        for (const bool rising : {true, false}) {
            const auto found = first_crossing(place, 0_m, rising, when);
            const std::string& expected = row.at(rising ? "next_moonrise_utc" : "next_moonset_utc");
            CAPTURE(rising);
            REQUIRE(found.has_value() == !expected.empty());
            if (!found) {
                ++absent;
                continue;
            }
            const double off = std::abs((geo::sky::precise(*found) - precise_utc(expected)).count());
            CHECK(off <= 5.0);
            worst_event = std::max(worst_event, off);
            ++events;
        }
    }
    CHECK(rows == 500);
    CHECK(absent > 0);
    MESSAGE("worst angle ", worst_angle, " degrees, fraction ", worst_fraction, ", event ", worst_event, " s of ",
            events, ", ", absent, " rightly absent");
}
