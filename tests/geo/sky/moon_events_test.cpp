#include "geo/sky/moon_events.hpp"

#include "geo/local_time.hpp"
#include "tests/geo/utc.hpp"
#include "tests/support/near.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>

using geo::Coordinate;
using geo::Instant;
using geo::Interval;
using geo::sky::moon_crossings;
using geo::sky::moon_up;
using namespace geo::literals;
using namespace std::chrono_literals;
using support::near;
using support::utc;

TEST_CASE("moon rises and sets to the minute of the Naval Observatory's tables") {
    // US Naval Observatory, rise/set tables for one year, printed to the minute; at latitude 80 and more the moon
    // crosses the horizon so flatly that its theory's error shows, hence 90 s there.
    struct Row {
        Coordinate place;
        const char* when;
        bool rising;
    };
    for (const Row& row :
         {Row{{-45_deg, 150_deg}, "2050-03-10T08:48:00Z", true}, Row{{-45_deg, 150_deg}, "2050-03-10T22:15:00Z", false},
          Row{{29_deg, -81_deg}, "2019-01-21T12:39:00Z", false}, Row{{29_deg, -81_deg}, "2019-01-21T23:40:00Z", true},
          Row{{29_deg, -81_deg}, "2019-07-02T10:14:00Z", true}, Row{{80_deg, 130_deg}, "2034-02-05T01:42:00Z", false},
          Row{{80_deg, 130_deg}, "2034-08-14T16:42:00Z", true},
          Row{{83_deg, 105_deg}, "2030-07-05T16:29:00Z", false}}) {
        CAPTURE(row.when);
        const Instant printed = utc(row.when);
        const auto events = moon_crossings(row.place, 0_m, {printed - 1h, printed + 1h});
        REQUIRE(events.size() == 1);
        CHECK(events[0].rising == row.rising);
        CHECK(near(events[0].when, printed, row.place.latitude > 75_deg ? 90s : 60s));
    }
}

TEST_CASE("moon's events tell its side of the horizon at every minute, pairs within an hour too") {
    std::mt19937 random(6);
    std::uniform_real_distribution<double> latitude(60.5, 72.5); // where it grazes the horizon, by its 18 year cycle
    std::uniform_real_distribution<double> longitude(-180.0, 180.0);
    int close_pairs = 0;
    for (int site = 0; site < 16; ++site) {
        const Coordinate place{{site % 2 == 0 ? latitude(random) : -latitude(random)}, {longitude(random)}};
        const Instant from = utc(site % 4 < 2 ? "2025-05-30T00:00:00Z" : "2034-12-01T00:00:00Z");
        const Instant until = from + 60 * 24h;
        const auto up = moon_up(place, 0_m, {from, until});
        const auto events = moon_crossings(place, 0_m, {from, until});
        for (std::size_t i = 1; i < events.size(); ++i) {
            CHECK(events[i].rising != events[i - 1].rising);
            close_pairs += events[i].when - events[i - 1].when < 1h ? 1 : 0;
        }
        const geo::sky::MoonView view(place, 0_m);
        auto span = up.begin();
        for (Instant minute = from; minute < until; minute += 1min) {
            while (span != up.end() && span->until < minute)
                ++span;
            const auto height = view.height_above_horizon(geo::sky::precise(minute));
            // Within half a second of an event, 0.0021 degrees at the sky's fastest, the rounded instant cannot tell.
            if (height > 0.0021_deg || height < -0.0021_deg)
                REQUIRE((height > 0_deg) == (span != up.end() && span->from <= minute));
        }
    }
    CHECK(close_pairs > 0);
}

TEST_CASE("about one civil day a month has no moonrise and one no moonset, and that is no fault") {
    // Madrid, 26 January 2019 and Denver, 4 November 2015 are reported days; then a year of each.
    struct Row {
        Coordinate place;
        const char* zone;
        const char* day;
    };
    for (const Row& row : {Row{{40.42_deg, -3.7_deg}, "Europe/Madrid", "2019-01-26"},
                           Row{{39.74_deg, -104.99_deg}, "America/Denver", "2015-11-04"}}) {
        const auto zone = *geo::find_time_zone(row.zone);
        const auto reported = moon_crossings(row.place, 0_m, geo::civil_day(*geo::parse_date(row.day), zone));
        CAPTURE(row.day);
        CHECK(reported.size() == 1);
        int without_rise = 0;
        int without_set = 0;
        for (int n = 0; n < 365; ++n) {
            const geo::CivilDate day{std::chrono::sys_days{*geo::parse_date(row.day)} + std::chrono::days{n}};
            Interval civil = geo::civil_day(day, zone);
            civil.until -= 1s; // the next day's first instant is not this day's
            const auto events = moon_crossings(row.place, 0_m, civil);
            const auto rises = std::count_if(events.begin(), events.end(), [](const auto& e) { return e.rising; });
            CHECK(rises <= 1);
            CHECK(static_cast<std::ptrdiff_t>(events.size()) - rises <= 1);
            without_rise += rises == 0 ? 1 : 0;
            without_set += static_cast<std::ptrdiff_t>(events.size()) == rises ? 1 : 0;
        }
        CHECK(without_rise >= 12);
        CHECK(without_rise <= 13);
        CHECK(without_set >= 12);
        CHECK(without_set <= 13);
    }
}

TEST_CASE("near the poles the moon stays up or down for days, as states and without times") {
    for (const auto latitude : {85_deg, -85_deg, 90_deg, -90_deg}) {
        const Coordinate place{latitude, 25_deg};
        int all_up = 0;
        int all_down = 0;
        for (int day = 0; day < 28; ++day) {
            const Instant from = utc("2026-02-01T00:00:00Z") + day * 24h;
            const Interval span{from, from + 24h};
            const auto up = moon_up(place, 0_m, span);
            if (!moon_crossings(place, 0_m, span).empty())
                continue;
            if (up.empty()) {
                ++all_down;
                continue;
            }
            REQUIRE(up.size() == 1);
            CHECK(up[0] == span);
            ++all_up;
        }
        CHECK(all_up >= 9);
        CHECK(all_down >= 9);
    }
}
