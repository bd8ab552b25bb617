/// Civil days against the sun's: whole kinds of faults that programs of this sort have had, over places, zones and
/// dates rather than at the one reported.

#include "geo/light_window.hpp"
#include "geo/sky/moon_events.hpp"
#include "geo/sky/sun_events.hpp"
#include "tests/geo/utc.hpp"
#include "tests/support/near.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

using geo::CivilDate;
using geo::Coordinate;
using geo::Instant;
using geo::Interval;
using geo::LightName;
using geo::Presence;
using geo::TimeZone;
using namespace geo::literals;
using namespace std::chrono_literals;

namespace {

TimeZone zone(const std::string& name) {
    const auto found = geo::find_time_zone(name);
    REQUIRE_MESSAGE(found, name);
    return *found;
}

CivilDate day_after(const char* first, int n) {
    return std::chrono::sys_days{*geo::parse_date(first)} + std::chrono::days{n};
}

/// Sky over a place for so many days, and the margin.
geo::PlaceSky sky_of(Coordinate place, const char* first, int days, const TimeZone& here) {
    return {place,
            0_m,
            {geo::civil_day(day_after(first, 0), here).from - geo::window_margin,
             geo::civil_day(day_after(first, days - 1), here).until + geo::window_margin}};
}

} // namespace

TEST_CASE("every light has a state on every date at every latitude, and no time outside its day's reach") {
    const TimeZone here = zone("UTC");
    for (double latitude = -90.0; latitude <= 90.0; latitude += 7.5) {
        for (const char* first : {"2026-06-11", "2026-12-14", "2026-03-16"}) {
            geo::PlaceSky sky = sky_of({{latitude}, {20.0}}, first, 14, here);
            for (int n = 0; n < 14; ++n)
                for (const LightName name : geo::light_names()) {
                    const CivilDate day = day_after(first, n);
                    const Interval civil = geo::civil_day(day, here);
                    const auto found = geo::light_windows({name}, sky, day, here);
                    CAPTURE(latitude);
                    CAPTURE(geo::to_string(name));
                    CHECK((found.presence == Presence::never) == found.intervals.empty());
                    for (const Interval& window : found.intervals) {
                        REQUIRE(window.from <= window.until);
                        REQUIRE(window.from >= civil.from - geo::window_margin);
                        REQUIRE(window.until <= civil.until + geo::window_margin);
                    }
                }
        }
    }
}

TEST_CASE("each civil day between the polar circles has one sunrise and one sunset, in that order, on its own date") {
    // All zones by the hour at their own meridian and up to four hours beside it, as China's west is: events of one
    // civil day fall on either side of the UTC day's border.
    for (int hours = -12; hours <= 14; ++hours) {
        const TimeZone here = zone("Etc/GMT" + std::string(hours > 0 ? "-" : "+") + std::to_string(std::abs(hours)));
        for (const double beside : {-30.0, 0.0, 30.0})
            for (const double latitude : {-55.0, -14.415, 0.0, 38.41, 58.0}) {
                const double longitude = std::remainder(15.0 * hours + beside, 360.0);
                geo::PlaceSky sky = sky_of({{latitude}, {longitude}}, "2024-03-11", 20, here);
                for (int n = 0; n < 20; ++n) {
                    const CivilDate day = day_after("2024-03-11", n);
                    CAPTURE(hours);
                    CAPTURE(longitude);
                    CAPTURE(latitude);
                    const auto sunlit = geo::light_windows({LightName::day}, sky, day, here);
                    REQUIRE(sunlit.intervals.size() == 1);
                    CHECK(geo::civil_date(sunlit.intervals[0].from, here) == day);
                    CHECK(geo::civil_date(sunlit.intervals[0].until, here) == day);
                    for (const LightName name : {LightName::golden_morning, LightName::blue_evening}) {
                        const auto found = geo::light_windows({name}, sky, day, here);
                        REQUIRE(found.intervals.size() == 1);
                        CHECK(geo::civil_date(found.intervals[0].from, here) == day);
                    }
                }
            }
    }
}

TEST_CASE("on every clock change of a zone the sun keeps its time and the clock moves") {
    struct Row {
        const char* zone;
        Coordinate place;
    };
    for (const Row& row :
         {Row{"Europe/Berlin", {48.14_deg, 11.58_deg}}, Row{"America/New_York", {40.7_deg, -74_deg}},
          Row{"Australia/Lord_Howe", {-31.55_deg, 159.08_deg}}, // half an hour
          Row{"Pacific/Auckland", {-41.3_deg, 174.8_deg}}, Row{"Atlantic/Azores", {37.7_deg, -25.7_deg}},
          Row{"America/Santiago", {-33.45_deg, -70.67_deg}}}) {
        const TimeZone here = zone(row.zone);
        geo::PlaceSky sky = sky_of(row.place, "2026-01-01", 365, here);
        int changes = 0;
        for (int n = 1; n < 365; ++n) {
            const CivilDate day = day_after("2026-01-01", n);
            const Interval civil = geo::civil_day(day, here);
            if (civil.length() == 24h)
                continue;
            ++changes;
            const auto change = 24h - civil.length();
            for (const LightName name : {LightName::sunrise, LightName::sunset}) {
                // The days around: some zones change at midnight, between two dates.
                const auto start = [&](int other) {
                    return geo::light_windows({name}, sky, day_after("2026-01-01", other), here).intervals.at(0).from;
                };
                const Instant before = start(n - 1);
                const Instant after = start(n + 1);
                CAPTURE(std::string(row.zone));
                CHECK(support::near(after, before + 48h, 6min));
                CHECK(geo::offset_at(after, here) - geo::offset_at(before, here) == change);
                CHECK(support::near(start(n), before + 24h, 3min));
            }
        }
        CHECK(changes == 2);
    }
}

TEST_CASE("windows stand for a flat horizon at sea level: a height brings no dip, and refraction comes in once") {
    const TimeZone here = zone("UTC");
    const CivilDate day = *geo::parse_date("2026-09-04");
    const Coordinate place{47_deg, 9.5_deg};
    const auto sea = geo::light_windows(LightName::day, place, 0_m, day, here).intervals.at(0);
    const auto summit = geo::light_windows(LightName::day, place, 3000_m, day, here).intervals.at(0);
    CHECK(support::near(sea.from, summit.from, 1s));
    CHECK(support::near(sea.until, summit.until, 1s));
    // At sunrise the true altitude of the upper limb is -34', not -68' and not 0.
    const auto t = geo::sky::precise(sea.from);
    const double limb =
        (geo::sky::sun_position(place, 0_m, sea.from).altitude + geo::sky::sun_semidiameter(geo::sky::sun_vector(t)))
            .value;
    CHECK(std::abs(limb + 34.0 / 60.0) < 0.003);
}

TEST_CASE("a moonless or moonrise-less civil day is found in every zone, and its moon stands where it is said") {
    for (const char* name : {"Europe/Madrid", "America/Denver", "Pacific/Kiritimati", "Asia/Kathmandu"}) {
        const TimeZone here = zone(name);
        const Coordinate place{40_deg, 0_deg};
        int missing = 0;
        for (int n = 0; n < 59; ++n) {
            Interval civil = geo::civil_day(day_after("2019-01-01", n), here);
            civil.until -= 1s;
            const auto events = geo::sky::moon_crossings(place, 0_m, civil);
            const geo::sky::MoonView view(place, 0_m);
            missing += events.size() < 2 ? 1 : 0;
            CHECK(events.size() <= 2);
            // The altitude at the day's ends fits what happened between.
            const bool up_first = view.height_above_horizon(geo::sky::precise(civil.from)) > 0_deg;
            const bool up_last = view.height_above_horizon(geo::sky::precise(civil.until)) > 0_deg;
            CHECK((up_first != up_last) == (events.size() % 2 == 1));
            if (!events.empty()) {
                CHECK(events.front().rising != up_first);
                CHECK(events.back().rising == up_last);
            }
        }
        CHECK(missing >= 3); // two months: about two rises and two sets
        CHECK(missing <= 5);
    }
}
