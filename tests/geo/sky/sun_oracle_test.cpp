/// The sun against every row of the optional check files.

#include "geo/sky/earth_rotation.hpp"
#include "geo/sky/refraction.hpp"
#include "geo/sky/season.hpp"
#include "geo/sky/sun.hpp"
#include "geo/sky/sun_events.hpp"
#include "tests/geo/sky/check_row.hpp"
#include "tests/support/shared_data.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <functional>
#include <map>
#include <optional>
#include <string>

using geo::Coordinate;
using geo::Degrees;
using geo::Instant;
using geo::Metres;
using geo::sky::HorizonRule;
using geo::sky::Season;
using geo::sky::SunLine;
using namespace geo::literals;
using namespace std::chrono_literals;
using support::Check;
using support::precise_utc;
using support::utc;

namespace {

/// The first crossing of the wanted direction at or after the row's date, or its distance would be nonsense.
std::optional<Instant> first_crossing(Coordinate place, Metres elevation, const SunLine& line, bool rising,
                                      Instant from, geo::Seconds within) {
    for (const auto& event : geo::sky::sun_crossings(place, elevation, line, {from, from + within}))
        if (event.rising == rising)
            return event.when;
    return std::nullopt;
}

double seconds_off(const Check& check, std::optional<Instant> found) {
    REQUIRE(found);
    return (geo::sky::precise(*found) - precise_utc(check.text("expected"))).count();
}

support::CheckError crossing_error(SunLine line, bool rising) {
    return [=](const Check& check) {
        return seconds_off(
            check, first_crossing(check.place(), check.elevation(), line, rising, utc(check.text("date_utc")), 72h));
    };
}

support::CheckError season_error(Season season) {
    return [=](const Check& check) {
        return seconds_off(check, geo::sky::next_season(season, utc(check.text("date_utc"))));
    };
}

/// What each quantity's row is off by, in the row's unit.
const std::map<std::string, support::CheckError>& errors() {
    const auto view = [](const Check& check) {
        return geo::sky::sun_position(check.place(), check.elevation(), utc(check.text("date_utc")));
    };
    const auto minus_expected = [](const Check& check, double found) { return found - check.number("expected"); };
    const auto sun = [](const Check& check) { return geo::sky::sun_place(check.when()); };
    static const std::map<std::string, support::CheckError> table{
        {"sunrise", crossing_error(HorizonRule::upper_limb, true)},
        {"sunset", crossing_error(HorizonRule::upper_limb, false)},
        {"civil_dawn", crossing_error(-6_deg, true)},
        {"civil_dusk", crossing_error(-6_deg, false)},
        {"nautical_dawn", crossing_error(-12_deg, true)},
        {"nautical_dusk", crossing_error(-12_deg, false)},
        {"astronomical_dawn", crossing_error(-18_deg, true)},
        {"astronomical_dusk", crossing_error(-18_deg, false)},
        {"march_equinox", season_error(Season::march_equinox)},
        {"june_solstice", season_error(Season::june_solstice)},
        {"september_equinox", season_error(Season::september_equinox)},
        {"december_solstice", season_error(Season::december_solstice)},
        {"sun_alt_airless_topo", [=](const Check& c) { return minus_expected(c, view(c).altitude.value); }},
        {"sun_az", [=](const Check& c) { return std::remainder(minus_expected(c, view(c).azimuth.value), 360.0); }},
        {"sun_alt_refracted_1010hPa_10C",
         [=](const Check& c) {
             const Degrees altitude = view(c).altitude;
             return minus_expected(c, (altitude + geo::sky::refraction_from_true(altitude)).value);
         }},
        {"sun_zenith_refracted_820hPa_11C",
         [=](const Check& c) {
             const Degrees altitude = view(c).altitude;
             return minus_expected(
                 c, 90.0 - (altitude + geo::sky::refraction_from_true(altitude, {{820.0}, {11.0}})).value);
         }},
        {"sun_ra_apparent_geocentric", [=](const Check& c) { return minus_expected(c, sun(c).right_ascension.value); }},
        {"sun_dec_apparent_geocentric", [=](const Check& c) { return minus_expected(c, sun(c).declination.value); }},
        {"sun_distance", [=](const Check& c) { return minus_expected(c, sun(c).distance.value); }},
        {"sun_ecl_lon_apparent", [=](const Check& c) { return minus_expected(c, sun(c).ecliptic_longitude.value); }},
        {"equation_of_time", [=](const Check& c) { return minus_expected(c, sun(c).equation_of_time.count() / 60.0); }},
        {"gmst", [=](const Check& c) { return minus_expected(c, geo::sky::mean_sidereal_time(c.when()).value); }},
        {"gast", [=](const Check& c) { return minus_expected(c, geo::sky::apparent_sidereal_time(c.when()).value); }},
        {"nutation_dpsi",
         [=](const Check& c) { return minus_expected(c, geo::sky::nutation(c.when()).longitude.value * 3600.0); }},
        {"nutation_deps",
         [=](const Check& c) { return minus_expected(c, geo::sky::nutation(c.when()).obliquity.value * 3600.0); }},
        {"tt_minus_utc",
         [=](const Check& c) { return minus_expected(c, geo::sky::terrestrial_minus_utc(c.when()).count()); }},
        {"refraction_apparent_alt",
         [=](const Check& c) {
             return minus_expected(c, geo::sky::refraction_from_apparent({c.input("apparent_alt_deg")}).value * 60.0);
         }},
        {"refraction_true_alt",
         [=](const Check& c) {
             return minus_expected(c, geo::sky::refraction_from_true({c.input("true_alt_deg")}).value * 60.0);
         }},
        {"refraction_true_alt_820hPa_11C",
         [=](const Check& c) {
             return minus_expected(c,
                                   geo::sky::refraction_from_true({c.input("true_alt_deg")}, {{820.0}, {11.0}}).value);
         }},
    };
    return table;
}

} // namespace

TEST_CASE("every sun row of the check file is met within its tolerance") {
    auto met = support::checked_rows(errors());
    if (!met)
        return;
    CHECK((*met)["sunrise"] == 33);
    CHECK((*met)["sunset"] == 34);
    CHECK((*met)["march_equinox"] == 21);
}

TEST_CASE("sunrise and sunset rows of the check file are met by the textbook rule too") {
    const auto file = support::shared_data("light_checks.csv");
    if (!file)
        return;
    for (const auto& row : support::read_csv(*file)) {
        const Check check{row};
        if (check.text("quantity") != "sunrise" && check.text("quantity") != "sunset")
            continue;
        CAPTURE(check.text("date_utc"));
        CAPTURE(check.text("lat"));
        const double off = crossing_error(HorizonRule::fixed_50, check.text("quantity") == "sunrise")(check);
        CHECK(std::abs(off) <= check.number("tolerance"));
    }
}

TEST_CASE("sun agrees with JPL DE405 in place and in every event, absent ones too") {
    const auto file = support::shared_data("sun_moon_oracle.csv");
    if (!file)
        return;
    double worst_angle = 0.0;
    double worst_event = 0.0;
    int rows = 0;
    int events = 0;
    int absent = 0;
    for (const auto& row : support::read_csv(*file)) {
        const auto number = [&](const char* name) { return std::stod(row.at(name)); };
        const Coordinate place{{number("lat")}, {number("lon")}};
        const Instant when = utc(row.at("utc"));
        CAPTURE(row.at("id"));
        const auto sun = geo::sky::sun_position(place, 0_m, when);
        const double cosine = std::cos(number("sun_alt_geometric_deg") * 3.14159265358979 / 180.0);
        const double altitude_off = std::abs(sun.altitude.value - number("sun_alt_geometric_deg"));
        const double azimuth_off = std::abs(std::remainder(sun.azimuth.value - number("sun_az_deg"), 360.0)) * cosine;
        CHECK(altitude_off <= 0.0005);
        CHECK(azimuth_off <= 0.0005);
        worst_angle = std::max({worst_angle, altitude_off, azimuth_off});
        ++rows;

        struct Event {
            const char* column;
            SunLine line;
            bool rising;
        };
        for (const Event& event :
             {Event{"next_sunrise_utc", HorizonRule::fixed_50, true},
              Event{"next_sunset_utc", HorizonRule::fixed_50, false}, Event{"next_civil_dusk_utc", -6_deg, false},
              Event{"next_nautical_dusk_utc", -12_deg, false}, Event{"next_astronomical_dusk_utc", -18_deg, false}}) {
            CAPTURE(event.column);
            const auto found = first_crossing(place, 0_m, event.line, event.rising, when, 72h);
            const std::string& expected = row.at(event.column);
            REQUIRE(found.has_value() == !expected.empty());
            if (!found) {
                ++absent;
                continue;
            }
            const double off = std::abs((geo::sky::precise(*found) - precise_utc(expected)).count());
            CHECK(off <= 1.0);
            worst_event = std::max(worst_event, off);
            ++events;
        }
    }
    CHECK(rows == 500);
    CHECK(absent > 100);
    MESSAGE("worst angle ", worst_angle, " degrees, worst event ", worst_event, " s of ", events, ", ", absent,
            " rightly absent");
}
