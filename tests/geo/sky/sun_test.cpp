#include "geo/sky/sun.hpp"

#include "geo/sky/earth_rotation.hpp"
#include "geo/sky/refraction.hpp"
#include "geo/sky/sun_events.hpp"
#include "tests/geo/utc.hpp"
#include "tests/support/near.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <random>
#include <string>
#include <vector>

using geo::Coordinate;
using geo::Degrees;
using geo::Instant;
using geo::Metres;
using namespace geo::literals;
using namespace std::chrono_literals;
using support::near;
using support::precise_utc;
using support::utc;

TEST_CASE("sun stands where the NREL worked example puts it") {
    // Reda and Andreas, Solar Position Algorithm, NREL/TP-560-34302 (rev. 2008), table A5.1: 39.742476 N 105.1786 W,
    // 1830.14 m, 820 hPa, 11 C. The report claims 0.0003 degrees and uses TT - UT = 67 s.
    const Coordinate golden{39.742476_deg, -105.1786_deg};
    const Instant when = utc("2003-10-17T19:30:30Z");
    const auto sun = geo::sky::sun_position(golden, 1830.14_m, when);
    CHECK(near(sun.altitude, 39.872046_deg, 0.0004_deg));
    CHECK(near(sun.azimuth, 194.340241_deg, 0.0006_deg));
    const geo::sky::Air air{{820.0}, {11.0}};
    CHECK(near(90_deg - sun.altitude - geo::sky::refraction_from_true(sun.altitude, air), 50.111622_deg, 0.001_deg));
    const auto place = geo::sky::sun_place(geo::sky::precise(when));
    CHECK(near(place.right_ascension, 202.227408_deg, 0.0004_deg));
    CHECK(near(place.declination, -9.31434_deg, 0.0004_deg));
    CHECK(std::abs(place.distance.value - 0.9965422974) < 2e-6);
    CHECK(std::abs(place.equation_of_time.count() / 60.0 - 14.641503) < 0.01);
}

TEST_CASE("sun's apparent place agrees with Meeus' worked example") {
    // Meeus, Astronomical Algorithms (1998), examples 25.a, 25.b and 28.b: 1992-10-13 0h TD.
    const auto place = geo::sky::sun_place(precise_utc("1992-10-12T23:59:00.816Z"));
    CHECK(near(place.ecliptic_longitude, 199.90599_deg, 0.0003_deg));
    CHECK(std::abs(place.distance.value - 0.99760852) < 2e-6);
    CHECK(near(place.right_ascension, 198.38083_deg, 0.01_deg));
    CHECK(near(place.declination, -7.78507_deg, 0.01_deg));
    CHECK(std::abs(place.equation_of_time.count() / 60.0 - 13.7108) < 0.01);
}

TEST_CASE("time scales and the Earth's turn agree with published values") {
    // IERS Bulletin C 52: TAI - UTC = 37 s since 2017-01-01, so TT - UTC = 69.184 s.
    CHECK(std::abs(geo::sky::terrestrial_minus_utc(precise_utc("2024-01-01T00:00:00Z")).count() - 69.184) < 1e-4);
    CHECK(std::abs(geo::sky::terrestrial_minus_utc(precise_utc("2016-12-31T12:00:00Z")).count() - 68.184) < 1e-4);
    // A year ERFA calls dubious is no failure.
    CHECK(std::abs(geo::sky::terrestrial_minus_utc(precise_utc("2031-07-01T00:00:00Z")).count() - 69.184) < 1e-4);
    // Meeus, example 12.a (UT 1987-04-10 0h) and 22.a (the same date, 0h TD).
    const auto night = precise_utc("1987-04-10T00:00:00Z");
    CHECK(near(geo::sky::mean_sidereal_time(night), 197.693195_deg, 2e-5_deg));
    CHECK(near(geo::sky::apparent_sidereal_time(night), 197.6922296_deg, 5e-5_deg));
    const auto wobble = geo::sky::nutation(precise_utc("1987-04-09T23:59:04.816Z"));
    CHECK(near(wobble.longitude, Degrees{-3.788 / 3600.0}, Degrees{0.06 / 3600.0}));
    CHECK(near(wobble.obliquity, Degrees{9.443 / 3600.0}, Degrees{0.06 / 3600.0}));
}

TEST_CASE("sun stands where JPL Horizons saw it at an equinox") {
    // JPL Horizons, DE431, airless apparent topocentric, 0 N 0 E, run 2019; tolerance allows for UT1 - UTC.
    struct Row {
        const char* when;
        Degrees altitude, azimuth;
    };
    for (const Row& row :
         {Row{"2019-03-19T04:10:00Z", -29.4893_deg, 90.7906_deg}, Row{"2019-03-19T15:10:00Z", 44.452_deg, 269.2896_deg},
          Row{"2019-03-20T13:10:00Z", 74.3869_deg, 269.462_deg},
          Row{"2019-03-20T18:40:00Z", -8.1313_deg, 269.9452_deg}}) {
        const auto sun = geo::sky::sun_position({0_deg, 0_deg}, 0_m, utc(row.when));
        CHECK(near(sun.altitude, row.altitude, 0.002_deg));
        CHECK(near(sun.azimuth, row.azimuth, Degrees{0.002 / std::cos(row.altitude.value * 3.14159265 / 180.0)}));
    }
}

TEST_CASE("sun rises and sets to the minute of the Naval Observatory's tables") {
    // US Naval Observatory, rise/set tables for one year and one-day service; minutes, so 30 s of it is rounding.
    struct Row {
        Coordinate place;
        const char* when;
        bool rising;
    };
    for (const Row& row :
         {Row{{39_deg, -105_deg}, "2015-08-02T12:01:00Z", true}, Row{{39_deg, -105_deg}, "2015-08-03T02:10:00Z", false},
          Row{{39.917_deg, 116.383_deg}, "2015-12-01T23:17:00Z", true},
          Row{{39.917_deg, 116.383_deg}, "2015-12-02T08:50:00Z", false},
          Row{{-60_deg, -150_deg}, "2019-06-21T19:06:00Z", true},
          Row{{-60_deg, -150_deg}, "2019-06-21T00:58:00Z", false}, Row{{60_deg, 0_deg}, "2019-06-21T02:36:00Z", true},
          Row{{60_deg, 0_deg}, "2019-12-22T14:55:00Z", false}, Row{{29_deg, -81_deg}, "2019-03-20T11:28:00Z", true}}) {
        const Instant printed = utc(row.when);
        CAPTURE(row.when);
        for (const auto rule : {geo::sky::HorizonRule::upper_limb, geo::sky::HorizonRule::fixed_50}) {
            const auto events = geo::sky::sun_crossings(row.place, 0_m, rule, {printed - 3h, printed + 3h});
            REQUIRE(events.size() == 1);
            CHECK(events[0].rising == row.rising);
            CHECK(near(events[0].when, printed, 60s));
        }
    }
}

TEST_CASE("interpolated places equal computed ones") {
    std::mt19937 random(11);
    std::uniform_real_distribution<double> year(1990.0, 2060.0);
    for (int i = 0; i < 200; ++i) {
        const geo::sky::PreciseInstant when{geo::sky::PreciseSeconds{(year(random) - 1970.0) * 31556952.0}};
        const auto fast = geo::sky::sun_vector(when);
        const auto slow = geo::sky::computed_sun_vector(geo::sky::terrestrial_time(when));
        for (std::size_t axis = 0; axis < 3; ++axis)
            CHECK(std::abs(fast[axis] - slow[axis]) < 2.5e-10); // 5e-5 arcseconds at 1 au
    }
}

TEST_CASE("a place's answer does not depend on what was asked before") {
    const Coordinate place{-20.5_deg, 33.3_deg};
    const Instant when = utc("2027-05-14T04:58:00Z");
    const auto first = geo::sky::sun_position(place, 10_m, when);
    // 1024 days later the ring of daily places has been overwritten once.
    for (int day = 0; day < 1100; ++day)
        geo::sky::sun_position(place, 10_m, when + day * 24h);
    const auto again = geo::sky::sun_position(place, 10_m, when);
    CHECK(first.altitude == again.altitude);
    CHECK(first.azimuth == again.azimuth);
}

TEST_CASE("the sky is continuous over poles, the antimeridian and the zenith") {
    const Instant when = utc("2026-06-21T10:00:00Z");
    const auto west = geo::sky::sun_position({-17_deg, -180_deg}, 0_m, when);
    const auto east = geo::sky::sun_position({-17_deg, 180_deg}, 0_m, when);
    CHECK(near(west.altitude, east.altitude, 1e-9_deg));
    CHECK(near(west.azimuth, east.azimuth, 1e-9_deg));
    // At a pole the altitude is the declination, 0.002 degrees of parallax less.
    const auto place = geo::sky::sun_place(geo::sky::precise(when));
    for (const double longitude : {-180.0, -77.0, 0.0, 180.0}) {
        const auto north = geo::sky::sun_position({90_deg, {longitude}}, 0_m, when);
        CHECK(near(north.altitude, place.declination, 0.0025_deg));
        CHECK((north.azimuth >= 0_deg && north.azimuth < 360_deg));
        CHECK(near(geo::sky::sun_position({-90_deg, {longitude}}, 0_m, when).altitude, -place.declination, 0.0025_deg));
    }
    // Under the sun, where azimuth loses its meaning.
    const double overhead = (geo::sky::apparent_sidereal_time(geo::sky::precise(when)) - place.right_ascension).value;
    const auto zenith = geo::sky::sun_position({place.declination, {std::remainder(-overhead, 360.0)}}, 0_m, when);
    CHECK(zenith.altitude > 89.9_deg);
    CHECK(std::isfinite(zenith.azimuth.value));
}

TEST_CASE("a place off the globe is refused") {
    const double none = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_AS(geo::sky::sun_position({90.1_deg, 0_deg}, 0_m, Instant{}), std::domain_error);
    CHECK_THROWS_AS(geo::sky::sun_position({0_deg, {none}}, 0_m, Instant{}), std::domain_error);
    CHECK_THROWS_AS(geo::sky::sun_position({0_deg, 0_deg}, {none}, Instant{}), std::domain_error);
}
