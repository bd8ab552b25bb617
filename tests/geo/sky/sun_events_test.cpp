#include "geo/sky/sun_events.hpp"

#include "tests/geo/utc.hpp"
#include "tests/support/near.hpp"

#include <doctest/doctest.h>

#include <random>

using geo::Coordinate;
using geo::Instant;
using geo::sky::HorizonRule;
using geo::sky::sun_crossings;
using geo::sky::SunLine;
using namespace geo::literals;
using namespace std::chrono_literals;
using support::utc;

TEST_CASE("events tell the sun's side of the line at every minute, pairs within an hour too") {
    // Around the solstices near the polar circles the sun grazes the line: two events can be minutes apart.
    std::mt19937 random(5);
    std::uniform_real_distribution<double> latitude(64.5, 68.5);
    std::uniform_real_distribution<double> longitude(-180.0, 180.0);
    int close_pairs = 0;
    for (int site = 0; site < 24; ++site) {
        const Coordinate place{{site % 2 == 0 ? latitude(random) : -latitude(random)}, {longitude(random)}};
        const SunLine line = site % 3 == 0 ? SunLine(HorizonRule::upper_limb) : SunLine(HorizonRule::fixed_50);
        const Instant from = utc(site % 4 < 2 ? "2026-05-30T00:00:00Z" : "2025-12-01T00:00:00Z");
        const Instant until = from + 43 * 24h;
        const auto events = sun_crossings(place, 0_m, line, {from, until});
        const geo::sky::SunView view(place, 0_m);
        bool above = view.height_above(line, geo::sky::precise(from)) >= 0_deg;
        auto next = events.begin();
        for (Instant minute = from; minute < until; minute += 1min) {
            for (; next != events.end() && next->when <= minute; ++next) {
                CHECK(next->rising != above);
                above = next->rising;
                if (std::next(next) != events.end() && std::next(next)->when - next->when < 1h)
                    ++close_pairs;
            }
            const auto height = view.height_above(line, geo::sky::precise(minute));
            // Within a second of an event the rounded instant cannot tell.
            if (height > 0.0005_deg || height < -0.0005_deg)
                REQUIRE((height > 0_deg) == above);
        }
    }
    CHECK(close_pairs > 0);
}

TEST_CASE("sunset can come before sunrise of the same UTC day") {
    // 38.883 N 77.033 W, 26 May 2019: the evening of the 25th, local time, falls into the 26th UTC. Recomputed: the
    // published reports name the order, not the times.
    const auto events = sun_crossings({38.883_deg, -77.033_deg}, 0_m, HorizonRule::upper_limb,
                                      {utc("2019-05-26T00:00:00Z"), utc("2019-05-27T00:00:00Z")});
    REQUIRE(events.size() == 2);
    CHECK(!events[0].rising);
    CHECK(events[1].rising);
}

TEST_CASE("the sun that stays up or down gives no event at all") {
    const geo::Interval june{utc("2026-06-20T00:00:00Z"), utc("2026-06-22T00:00:00Z")};
    CHECK(sun_crossings({69.6_deg, 19_deg}, 0_m, HorizonRule::upper_limb, june).empty());
    CHECK(sun_crossings({-69.6_deg, 19_deg}, 0_m, HorizonRule::upper_limb, june).empty());
    CHECK(sun_crossings({90_deg, 0_deg}, 0_m, HorizonRule::upper_limb, june).empty());
    CHECK(sun_crossings({52.5_deg, 13.4_deg}, 0_m, -18_deg, june).empty());
    CHECK(sun_crossings({52.5_deg, 13.4_deg}, 0_m, HorizonRule::upper_limb, june).size() == 4);
}

TEST_CASE("at the poles the sun rises once a year") {
    for (const auto latitude : {90_deg, -90_deg}) {
        const auto events = sun_crossings({latitude, 25_deg}, 0_m, HorizonRule::upper_limb,
                                          {utc("2026-01-01T00:00:00Z"), utc("2027-01-01T00:00:00Z")});
        REQUIRE(events.size() == 2);
        CHECK(events[0].rising == (latitude > 0_deg));
        CHECK(events[1].rising != events[0].rising);
    }
}

TEST_CASE("the two sunrise rules differ by seconds") {
    for (int month = 1; month <= 12; ++month) {
        const Instant from =
            utc("2026-" + std::string(month < 10 ? "0" : "") + std::to_string(month) + "-10T00:00:00Z");
        const geo::Interval day{from, from + 24h};
        const auto limb = sun_crossings({50_deg, 0_deg}, 0_m, HorizonRule::upper_limb, day);
        const auto fixed = sun_crossings({50_deg, 0_deg}, 0_m, HorizonRule::fixed_50, day);
        REQUIRE(limb.size() == 2);
        REQUIRE(fixed.size() == 2);
        for (std::size_t i = 0; i < 2; ++i)
            CHECK(support::near(limb[i].when, fixed[i].when, 4s));
    }
}
