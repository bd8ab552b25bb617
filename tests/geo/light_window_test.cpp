#include "geo/light_window.hpp"

#include "geo/sky/moon.hpp"
#include "geo/sky/sun.hpp"
#include "geo/sky/sun_view.hpp"
#include "tests/geo/utc.hpp"
#include "tests/support/near.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>
#include <vector>

using geo::CivilDate;
using geo::ClockRange;
using geo::Coordinate;
using geo::Degrees;
using geo::HalfDay;
using geo::Instant;
using geo::Interval;
using geo::Intervals;
using geo::LightName;
using geo::LightRequest;
using geo::LightWindows;
using geo::Presence;
using geo::Seconds;
using geo::SunAltitudeRange;
using geo::TimeZone;
using namespace geo::literals;
using namespace std::chrono_literals;
using support::near;
using support::utc;

namespace {

TimeZone zone(const std::string& name) {
    const auto found = geo::find_time_zone(name);
    REQUIRE_MESSAGE(found, name);
    return *found;
}

CivilDate day_of(const char* text) {
    return *geo::parse_date(text);
}

LightWindows windows(LightRequest request, Coordinate place, const char* day, const char* zone_name) {
    return geo::light_windows(request, place, 0_m, day_of(day), zone(zone_name));
}

/// Where sun and moon stand, asked of sun_position and moon_position alone.
struct Look {
    Degrees altitude;
    Degrees climb;       ///< in the minute around
    Degrees moon_height; ///< over the line of moonrise
    double moon_lit;
};

Look look(Coordinate place, Instant when) {
    const auto altitude = [&](Instant t) { return geo::sky::sun_position(place, 0_m, t).altitude; };
    const auto moon = geo::sky::moon_vector(geo::sky::precise(when));
    return {altitude(when), altitude(when + 30s) - altitude(when - 30s),
            geo::sky::moon_position(place, 0_m, when).altitude + Degrees{34.0 / 60.0} +
                geo::sky::moon_semidiameter(moon),
            geo::sky::moon_illumination(geo::sky::precise(when)).fraction};
}

enum class Answer { yes, no, too_close };

/// Whether there is this light, by the words of docs/light.md; too close to tell where a limit is within half a second
/// of the sun's motion, to which windows are rounded, or where the sun is about to turn.
Answer has_light(LightName name, const Look& sun, Degrees semidiameter) {
    struct Words {
        LightName name;
        double low, high;
        int climbing; ///< 1 only while climbing, -1 only while sinking
    };
    const double limb = -(34.0 / 60.0 + semidiameter.value);
    const std::vector<Words> words{{LightName::sunrise, limb, 6, 1},      {LightName::sunset, limb, 6, -1},
                                   {LightName::golden_morning, -4, 6, 1}, {LightName::golden_evening, -4, 6, -1},
                                   {LightName::golden, -4, 6, 0},         {LightName::blue_morning, -6, -4, 1},
                                   {LightName::blue_evening, -6, -4, -1}, {LightName::blue, -6, -4, 0},
                                   {LightName::day, limb, 91, 0},         {LightName::high_sun, 45, 91, 0},
                                   {LightName::low_sun, 6, 20, 0},        {LightName::soft, -6, limb, 0},
                                   {LightName::direct_sun, limb, 91, 0},  {LightName::open_shade, 91, 92, 0},
                                   {LightName::night, -91, -18, 0},       {LightName::dark_sky, -91, -18, 0},
                                   {LightName::moonlight, -91, -12, 0},   {LightName::any, -91, 91, 0}};
    const auto& row = words[static_cast<std::size_t>(name)];
    REQUIRE(row.name == name);
    const double altitude = sun.altitude.value;
    if (std::min(std::abs(altitude - row.low), std::abs(altitude - row.high)) < 0.0021)
        return Answer::too_close;
    if (altitude < row.low || altitude > row.high)
        return Answer::no;
    if (name == LightName::dark_sky || name == LightName::moonlight) {
        const double limit = name == LightName::dark_sky ? 0.10 : 0.50;
        if (std::abs(sun.moon_height.value) < 0.0021 || std::abs(sun.moon_lit - limit) < 1e-5)
            return Answer::too_close;
        const bool bright_moon = sun.moon_height.value > 0.0 && sun.moon_lit > limit;
        return bright_moon == (name == LightName::moonlight) ? Answer::yes : Answer::no;
    }
    if (row.climbing == 0)
        return Answer::yes;
    if (std::abs(sun.climb.value) < 2e-5)
        return Answer::too_close;
    return (sun.climb.value > 0.0) == (row.climbing > 0) ? Answer::yes : Answer::no;
}

bool holds(const Intervals& list, Instant when) {
    return std::any_of(list.begin(), list.end(),
                       [&](const Interval& span) { return span.from <= when && when <= span.until; });
}

void check_shape(const LightWindows& found, Interval civil) {
    CHECK((found.presence == Presence::never) == found.intervals.empty());
    for (std::size_t i = 0; i < found.intervals.size(); ++i) {
        CHECK(found.intervals[i].from <= found.intervals[i].until);
        CHECK(found.intervals[i].from >= civil.from - 12h);
        CHECK(found.intervals[i].until <= civil.until + 12h);
        CHECK(found.intervals[i].from < civil.until);
        CHECK(found.intervals[i].until >= civil.from);
        if (i > 0)
            CHECK(found.intervals[i - 1].until < found.intervals[i].from);
    }
    const bool covered = std::any_of(found.intervals.begin(), found.intervals.end(), [&](const Interval& span) {
        return span.from <= civil.from && span.until >= civil.until;
    });
    CHECK((found.presence == Presence::all_day) == covered);
}

} // namespace

TEST_CASE("windows hold the minutes that a plain look at the sun finds, from pole to pole") {
    // Every 23rd day of a year at places on all continents of latitude, either side of the antimeridian too.
    const std::vector<Coordinate> places{
        {90_deg, 0_deg},    {89.9_deg, 100_deg},  {80_deg, 20_deg},     {70_deg, -180_deg},
        {66.6_deg, 25_deg}, {60_deg, 180_deg},    {47_deg, 9.5_deg},    {23.4_deg, 77_deg},
        {0_deg, -78_deg},   {-17_deg, 179.9_deg}, {-23.5_deg, -70_deg}, {-45_deg, 170_deg},
        {-62_deg, -58_deg}, {-66.6_deg, 110_deg}, {-78_deg, 167_deg},   {-90_deg, -120_deg}};
    const TimeZone here = zone("UTC");
    int minutes_looked = 0;
    for (const Coordinate& place : places) {
        CAPTURE(place.latitude.value);
        for (std::chrono::sys_days day{day_of("2026-01-03")}; day < std::chrono::sys_days{day_of("2027-01-01")};
             day += std::chrono::days{23}) {
            const Interval civil = geo::civil_day(CivilDate{day}, here);
            std::vector<LightWindows> found;
            for (const LightName name : geo::light_names()) {
                found.push_back(geo::light_windows(name, place, 0_m, CivilDate{day}, here));
                check_shape(found.back(), civil);
            }
            for (Instant minute = civil.from; minute < civil.until; minute += 4min) {
                const Look sun = look(place, minute);
                const auto semidiameter = geo::sky::sun_semidiameter(geo::sky::sun_vector(geo::sky::precise(minute)));
                for (const LightName name : geo::light_names()) {
                    const Answer answer = has_light(name, sun, semidiameter);
                    if (answer == Answer::too_close)
                        continue;
                    ++minutes_looked;
                    if ((answer == Answer::yes) != holds(found[static_cast<std::size_t>(name)].intervals, minute)) {
                        CAPTURE(geo::to_string(name));
                        CAPTURE(geo::iso_text(minute, here));
                        CAPTURE(sun.altitude.value);
                        CHECK((answer == Answer::yes) ==
                              holds(found[static_cast<std::size_t>(name)].intervals, minute));
                    }
                }
            }
        }
    }
    CHECK(minutes_looked > 1'000'000);
}

TEST_CASE("windows move by less than four minutes from day to day, but where the sun crosses at a flat angle") {
    const std::vector<Coordinate> places{{60_deg, 5_deg},    {50_deg, -123_deg}, {35_deg, 139_deg},
                                         {10_deg, 180_deg},  {0_deg, -180_deg},  {-25_deg, -170_deg},
                                         {-45_deg, 170_deg}, {-60_deg, -27_deg}};
    int compared = 0;
    int steep = 0;
    for (const Coordinate& place : places) {
        // A zone of the place's own: the windows then keep to their civil day.
        const int hours = static_cast<int>(std::lround(place.longitude.value / 15.0));
        const TimeZone here = zone("Etc/GMT" + std::string(hours > 0 ? "-" : "+") + std::to_string(std::abs(hours)));
        const auto check_edge = [&](Instant today, Instant tomorrow) {
            // Over 24 hours the sun's altitude changes by at most 0.45 degrees (declination 0.40, equation of time); so
            // an edge moves by that over the speed of crossing, which in a window's first and last days is small.
            const double degrees_a_minute =
                std::min(std::abs(look(place, today).climb.value), std::abs(look(place, tomorrow).climb.value));
            ++compared;
            if (degrees_a_minute > 0.45 / 4.0) {
                ++steep;
                CHECK(near(tomorrow, today + 24h, 4min));
            } else if (degrees_a_minute > 0.01) {
                CHECK(near(tomorrow, today + 24h, Seconds{static_cast<int>(60.0 * 0.45 / degrees_a_minute) + 30}));
            }
        };
        for (const LightName name : geo::light_names()) {
            // The moon comes most of an hour later each day.
            if (name == LightName::any || name == LightName::dark_sky || name == LightName::moonlight)
                continue;
            CAPTURE(place.latitude.value);
            CAPTURE(geo::to_string(name));
            LightWindows today;
            for (int i = 0; i < 366; ++i) {
                const CivilDate day{std::chrono::sys_days{day_of("2027-03-01")} + std::chrono::days{i}};
                CAPTURE(geo::to_string(day));
                LightWindows tomorrow = geo::light_windows(name, place, 0_m, day, here);
                if (today.intervals.size() == tomorrow.intervals.size())
                    for (std::size_t k = 0; k < today.intervals.size(); ++k) {
                        check_edge(today.intervals[k].from, tomorrow.intervals[k].from);
                        check_edge(today.intervals[k].until, tomorrow.intervals[k].until);
                    }
                today = std::move(tomorrow);
            }
        }
    }
    CHECK(compared > 60'000);
    CHECK(steep > 40'000);
}

TEST_CASE("golden light lies on either side of sunrise and sunset, blue before and after it") {
    const Coordinate place{47_deg, 9.5_deg};
    const auto get = [&](LightName name) {
        const auto found = windows(name, place, "2026-04-10", "Europe/Vaduz");
        REQUIRE(found.presence == Presence::some);
        return found.intervals;
    };
    const Interval blue_morning = get(LightName::blue_morning).at(0);
    const Interval golden_morning = get(LightName::golden_morning).at(0);
    const Interval sunrise = get(LightName::sunrise).at(0);
    const Interval day = get(LightName::day).at(0);
    const Interval sunset = get(LightName::sunset).at(0);
    const Interval golden_evening = get(LightName::golden_evening).at(0);
    const Interval blue_evening = get(LightName::blue_evening).at(0);
    CHECK(blue_morning.until == golden_morning.from);
    CHECK(golden_morning.from < sunrise.from);
    CHECK(sunrise.from == day.from);
    CHECK(sunrise.until == golden_morning.until);
    CHECK(golden_evening.from == sunset.from);
    CHECK(sunset.until == day.until);
    CHECK(golden_evening.until == blue_evening.from);
    // Without a half of the day: both.
    CHECK(get(LightName::golden) == Intervals{golden_morning, golden_evening});
    CHECK(get(LightName::blue) == Intervals{blue_morning, blue_evening});
    CHECK(get(LightName::night).size() == 2); // the night that ends and the one that begins
    CHECK(get(LightName::low_sun).size() == 2);
    // A free range is the same thing.
    CHECK(windows(SunAltitudeRange{-4_deg, 6_deg, HalfDay::evening}, place, "2026-04-10", "Europe/Vaduz").intervals ==
          Intervals{golden_evening});
}

TEST_CASE("midnight sun and polar night are states, never times") {
    struct Row {
        Degrees latitude;
        const char* day;
        LightName name;
        Presence presence;
    };
    for (const Row& row :
         {Row{69.65_deg, "2026-06-21", LightName::day, Presence::all_day},
          Row{69.65_deg, "2026-06-21", LightName::sunrise,
              Presence::some}, // the low midnight sun climbs from 3 degrees
          Row{69.65_deg, "2026-06-21", LightName::golden, Presence::some},
          Row{69.65_deg, "2026-06-21", LightName::blue, Presence::never},
          Row{69.65_deg, "2026-06-21", LightName::night, Presence::never},
          Row{69.65_deg, "2026-12-21", LightName::day, Presence::never},
          Row{69.65_deg, "2026-12-21", LightName::sunset, Presence::never},
          Row{69.65_deg, "2026-12-21", LightName::golden, Presence::some}, // noon at -3.1
          Row{69.65_deg, "2026-12-21", LightName::blue, Presence::some},
          Row{69.65_deg, "2026-12-21", LightName::night, Presence::some},
          Row{66_deg, "2026-06-21", LightName::day, Presence::all_day}, // refraction lifts it, inside the polar circle
          Row{66_deg, "2026-06-21", LightName::golden, Presence::some},
          Row{65_deg, "2026-06-21", LightName::day, Presence::some},
          Row{78_deg, "2026-06-21", LightName::golden, Presence::never}, // lowest at 11.4
          Row{78_deg, "2026-06-21", LightName::high_sun, Presence::never},
          Row{80_deg, "2026-12-21", LightName::blue, Presence::never}, // noon at -13.4
          Row{90_deg, "2026-12-21", LightName::night, Presence::all_day},
          Row{-90_deg, "2026-12-21", LightName::day, Presence::all_day},
          Row{90_deg, "2026-03-20", LightName::golden_morning, Presence::all_day}, // rises for days
          Row{90_deg, "2026-09-23", LightName::golden_evening, Presence::all_day},
          Row{52.5_deg, "2026-06-21", LightName::night, Presence::never}, // no darkness in Berlin's June
          Row{52.5_deg, "2026-12-21", LightName::high_sun, Presence::never}}) {
        CAPTURE(row.latitude.value);
        CAPTURE(geo::to_string(row.name));
        CAPTURE(row.day);
        const auto found = windows(row.name, {row.latitude, 13.4_deg}, row.day, "Europe/Berlin");
        CHECK(found.presence == row.presence);
        CHECK((found.presence == Presence::never) == found.intervals.empty());
    }
}

TEST_CASE("where an arccosine would leave its domain there is still an answer") {
    // 66.1 N on 11 June, where the midnight sun touches the horizon, and the nights around: each sunrise is a time or
    // none, as the sun's lowest altitude says.
    const Coordinate place{66.1_deg, 20_deg};
    for (std::chrono::sys_days day{day_of("2026-06-01")}; day < std::chrono::sys_days{day_of("2026-07-15")};
         day += std::chrono::days{1}) {
        const auto found = geo::light_windows(LightName::day, place, 0_m, CivilDate{day}, zone("Europe/Stockholm"));
        const Interval civil = geo::civil_day(CivilDate{day}, zone("Europe/Stockholm"));
        double lowest = 90.0;
        for (Instant minute = civil.from; minute < civil.until; minute += 1min)
            lowest = std::min(lowest, geo::sky::sun_position(place, 0_m, minute).altitude.value);
        const auto noon = geo::sky::precise(civil.from + 12h);
        const double limb = -(34.0 / 60.0 + geo::sky::sun_semidiameter(geo::sky::sun_vector(noon)).value);
        if (std::abs(lowest - limb) > 0.0005)
            CHECK((found.presence == Presence::all_day) == (lowest > limb));
    }
}

TEST_CASE("the morning comes before the evening on every civil day, whatever the date in UTC") {
    // 38.883 N 77.033 W, 26 May 2019: in UTC the sunset of that date comes before its sunrise.
    const Coordinate place{38.883_deg, -77.033_deg};
    const TimeZone there = zone("America/New_York");
    const auto golden = windows(LightName::golden, place, "2019-05-26", "America/New_York");
    REQUIRE(golden.intervals.size() == 2);
    const auto morning = windows(LightName::golden_morning, place, "2019-05-26", "America/New_York");
    const auto evening = windows(LightName::golden_evening, place, "2019-05-26", "America/New_York");
    CHECK(golden.intervals[0] == morning.intervals.at(0));
    CHECK(golden.intervals[1] == evening.intervals.at(0));
    CHECK(geo::civil_date(golden.intervals[0].from, there) == day_of("2019-05-26"));
    CHECK(geo::civil_date(golden.intervals[1].until, there) == day_of("2019-05-26"));
    CHECK(evening.intervals[0].until >= utc("2019-05-27T00:00:00Z"));
}

TEST_CASE("the window of the asked civil day is given, not of the UTC day") {
    // 14.415 S 128.525 E, 14 April 2022; and two places whose dusk falls on the next or an early UTC date.
    struct Row {
        Coordinate place;
        const char* day;
        const char* zone;
    };
    for (const Row& row : {Row{{-14.415_deg, 128.525_deg}, "2022-04-14", "Australia/Darwin"},
                           Row{{30_deg, -82_deg}, "2024-03-15", "America/New_York"},
                           Row{{38.41_deg, 90.14_deg}, "2024-03-22", "Asia/Shanghai"},
                           Row{{-17.5_deg, 179.99_deg}, "2024-03-22", "Pacific/Fiji"},
                           Row{{-13.8_deg, -171.8_deg}, "2024-03-22", "Pacific/Apia"}}) {
        CAPTURE(row.day);
        CAPTURE(row.zone);
        for (const LightName name : {LightName::sunrise, LightName::sunset, LightName::golden_morning,
                                     LightName::blue_evening, LightName::day}) {
            const auto found = windows(name, row.place, row.day, row.zone);
            REQUIRE(found.intervals.size() == 1);
            CHECK(geo::civil_date(found.intervals[0].from, zone(row.zone)) == day_of(row.day));
            CHECK(geo::civil_date(found.intervals[0].until, zone(row.zone)) == day_of(row.day));
        }
    }
}

TEST_CASE("on days with a clock change the sun keeps its time and the clock moves") {
    // Munich, 26 March and 29 October 2023.
    struct Row {
        const char* before;
        const char* change;
        Seconds clock;
    };
    const Coordinate munich{48.14_deg, 11.58_deg};
    const TimeZone here = zone("Europe/Berlin");
    for (const Row& row : {Row{"2023-03-25", "2023-03-26", 1h}, Row{"2023-10-28", "2023-10-29", -1h}}) {
        for (const LightName name : {LightName::sunrise, LightName::sunset, LightName::blue_morning}) {
            const Instant earlier = windows(name, munich, row.before, "Europe/Berlin").intervals.at(0).from;
            const Instant later = windows(name, munich, row.change, "Europe/Berlin").intervals.at(0).from;
            CHECK(near(later, earlier + 24h, 3min));
            CHECK(geo::offset_at(later, here) - geo::offset_at(earlier, here) == row.clock);
        }
        CHECK(windows(LightName::any, munich, row.change, "Europe/Berlin").intervals.at(0).length() == 48h - row.clock);
    }
}

TEST_CASE("clock windows follow the clock, past midnight and over clock changes") {
    const auto at = [](const char* day, const char* from, const char* until) {
        return windows(ClockRange{*geo::parse_clock(from), *geo::parse_clock(until)}, {48_deg, 11_deg}, day,
                       "Europe/Berlin");
    };
    CHECK(at("2026-06-01", "10:00", "16:00").intervals ==
          Intervals{{utc("2026-06-01T08:00:00Z"), utc("2026-06-01T14:00:00Z")}});
    // Past midnight: the night that began the evening before, and the one to come.
    CHECK(at("2026-06-01", "22:00", "04:00").intervals ==
          Intervals{{utc("2026-05-31T20:00:00Z"), utc("2026-06-01T02:00:00Z")},
                    {utc("2026-06-01T20:00:00Z"), utc("2026-06-02T02:00:00Z")}});
    // Ends with the day: touches neither the next nor the one before.
    CHECK(at("2026-06-01", "20:00", "24:00").intervals ==
          Intervals{{utc("2026-06-01T18:00:00Z"), utc("2026-06-01T22:00:00Z")}});
    CHECK(at("2026-06-01", "20:00", "00:00").intervals == at("2026-06-01", "20:00", "24:00").intervals);
    CHECK(at("2026-06-01", "00:00", "24:00").presence == Presence::all_day);
    CHECK(at("2026-10-25", "00:00", "24:00").intervals.at(0).length() == 25h);
    CHECK(at("2026-03-29", "01:00", "04:00").intervals.at(0).length() == 2h);
    // Inside the gap, and at one instant: a window of no length, not none.
    CHECK(at("2026-03-29", "02:10", "02:50").intervals ==
          Intervals{{utc("2026-03-29T01:00:00Z"), utc("2026-03-29T01:00:00Z")}});
    CHECK(at("2026-06-01", "12:00", "12:00").presence == Presence::some);
    // Longer than the margin of 12 hours is cut there.
    CHECK(at("2026-06-01", "06:00", "05:00").intervals.at(0).from == utc("2026-05-31T10:00:00Z"));
}

TEST_CASE("several lights are joined into one list") {
    const Coordinate place{47_deg, 9.5_deg};
    const auto joined = geo::light_windows({LightName::golden_morning, LightName::low_sun, LightName::blue_morning},
                                           place, 0_m, day_of("2026-04-10"), zone("Europe/Vaduz"));
    const auto one = windows(SunAltitudeRange{-6_deg, 20_deg, HalfDay::morning}, place, "2026-04-10", "Europe/Vaduz");
    REQUIRE(joined.intervals.size() == 2); // the morning in one piece, and the evening's low sun
    CHECK(joined.intervals[0] == one.intervals.at(0));
    CHECK(geo::light_windows({LightName::night, SunAltitudeRange{-18_deg, 90_deg, {}}}, place, 0_m,
                             day_of("2026-04-10"), zone("Europe/Vaduz"))
              .presence == Presence::all_day);
    CHECK(geo::light_windows(std::vector<LightRequest>{}, place, 0_m, day_of("2026-04-10"), zone("Europe/Vaduz"))
              .presence == Presence::never);
}

TEST_CASE("a light the sun only touches is a window of one instant") {
    const Coordinate place{47_deg, 9.5_deg};
    const geo::sky::SunView view(place, 0_m);
    double highest = -90.0;
    for (geo::sky::PreciseInstant t = support::precise_utc("2026-12-01T10:00:00Z");
         t < support::precise_utc("2026-12-01T13:00:00Z"); t += geo::sky::PreciseSeconds{0.25})
        highest = std::max(highest, view.altitude(t).value);
    const auto touched = windows(SunAltitudeRange{{highest - 1e-9}, 90_deg, {}}, place, "2026-12-01", "Europe/Vaduz");
    REQUIRE(touched.intervals.size() == 1);
    CHECK(touched.intervals[0].length() <= 1s);
    CHECK(windows(SunAltitudeRange{{highest + 1e-7}, 90_deg, {}}, place, "2026-12-01", "Europe/Vaduz").presence ==
          Presence::never);
}

TEST_CASE("a day the zone skipped has no light at all") {
    for (const LightRequest& request :
         {LightRequest(LightName::any), LightRequest(LightName::day), LightRequest(ClockRange{8h, 12h})}) {
        const auto found = windows(request, {-13.8_deg, -171.8_deg}, "2011-12-30", "Pacific/Apia");
        CHECK(found.presence == Presence::never);
        CHECK(found.intervals.empty());
    }
}

TEST_CASE("impossible ranges are never met, impossible places are refused") {
    const double none = std::numeric_limits<double>::quiet_NaN();
    const Coordinate place{47_deg, 9.5_deg};
    CHECK(windows(SunAltitudeRange{6_deg, -4_deg, {}}, place, "2026-04-10", "UTC").presence == Presence::never);
    CHECK(windows(SunAltitudeRange{{none}, 6_deg, {}}, place, "2026-04-10", "UTC").presence == Presence::never);
    CHECK_THROWS_AS(windows(LightName::golden, {95_deg, 0_deg}, "2026-04-10", "UTC"), std::domain_error);
}

TEST_CASE("years far from ours give answers, not faults") {
    for (const auto* day : {"0001-01-01", "1899-12-31", "2199-06-21", "9999-12-30"})
        CHECK(windows(LightName::day, {47_deg, 9.5_deg}, day, "UTC").presence == Presence::some);
}
