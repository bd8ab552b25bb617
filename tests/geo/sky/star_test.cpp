#include "geo/sky/star.hpp"

#include "geo/sky/crossing_search.hpp"
#include "geo/sky/earth_rotation.hpp"
#include "tests/geo/utc.hpp"
#include "tests/support/near.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using geo::Degrees;
using geo::Instant;
using namespace geo::literals;
using namespace std::chrono_literals;
using support::near;
using support::utc;

TEST_CASE("a body of known place of date stands where Meeus' worked example puts it") {
    // Meeus, Astronomical Algorithms (1998), example 13.b: Venus from Washington, 1987-04-10 19:21 UT, without parallax
    // and refraction. His right ascension counts from the equinox, ours from the intermediate origin.
    const auto when = support::precise_utc("1987-04-10T19:21:00Z");
    const double degree = 3.14159265358979323846 / 180.0;
    const double from_equinox = (geo::sky::apparent_sidereal_time(when) - geo::sky::earth_rotation_angle(when)).value;
    const double ascension = (347.3193375 - from_equinox) * degree;
    const double declination = -6.719891667 * degree;
    const geo::sky::CelestialVector venus{1e9 * std::cos(declination) * std::cos(ascension),
                                          1e9 * std::cos(declination) * std::sin(ascension),
                                          1e9 * std::sin(declination)};
    const auto seen = geo::sky::Observer({38.921389_deg, -77.065556_deg}, 0_m).view(venus, when);
    CHECK(near(seen.altitude, 15.1249_deg, 0.0005_deg));
    CHECK(near(seen.azimuth, 248.0337_deg, 0.0005_deg));
}

TEST_CASE("the Milky Way's centre culminates at 90 - |latitude + 29|, once a sidereal day") {
    for (const double latitude : {-60.0, -29.0, 0.0, 28.0, 47.0, 60.0}) {
        const geo::Coordinate place{{latitude}, 17_deg};
        const auto altitude = [&](geo::sky::PreciseInstant when) {
            return geo::sky::star_position(geo::sky::galactic_centre, place, 0_m, geo::sky::rounded(when))
                .altitude.value;
        };
        const auto from = support::precise_utc("2027-06-01T00:00:00Z");
        const auto turns = geo::sky::find_turning_points(altitude, {from, from + 48h});
        double highest = -90.0;
        for (const auto turn : turns)
            highest = std::max(highest, altitude(turn));
        CAPTURE(latitude);
        CHECK(std::abs(highest - (90.0 - std::abs(latitude + 29.0))) < 0.06);
    }
}

TEST_CASE("a star rises 236 seconds earlier each day and has no parallax") {
    const geo::Coordinate place{10_deg, 17_deg};
    const Instant when = utc("2027-06-01T22:00:00Z");
    const auto tonight = geo::sky::star_position(geo::sky::galactic_centre, place, 0_m, when);
    const auto tomorrow = geo::sky::star_position(geo::sky::galactic_centre, place, 0_m, when + 24h - 236s);
    CHECK(near(tonight.altitude, tomorrow.altitude, 0.003_deg));
    CHECK(near(tonight.azimuth, tomorrow.azimuth, 0.003_deg));
    const auto higher = geo::sky::star_position(geo::sky::galactic_centre, place, 8000_m, when);
    CHECK(near(tonight.altitude, higher.altitude, 1e-6_deg));
}
