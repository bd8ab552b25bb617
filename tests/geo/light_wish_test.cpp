/// Wishes that join name, limits, camera, moon, clock and quality.

#include "geo/light_quality.hpp"
#include "geo/light_rule.hpp"
#include "geo/light_window.hpp"
#include "geo/sky/moon.hpp"
#include "geo/sky/sun.hpp"
#include "tests/geo/utc.hpp"
#include "tests/support/near.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

using geo::CivilDate;
using geo::Coordinate;
using geo::Degrees;
using geo::Instant;
using geo::Interval;
using geo::Intervals;
using geo::LightName;
using geo::LightRequest;
using geo::LightWish;
using geo::Presence;
using geo::SunBeside;
using geo::SunSide;
using namespace geo::literals;
using namespace std::chrono_literals;

namespace {

const geo::TimeZone& utc_zone() {
    static const geo::TimeZone zone = *geo::find_time_zone("UTC");
    return zone;
}

CivilDate day_of(const char* text) {
    return *geo::parse_date(text);
}

Intervals windows(const LightRequest& request, Coordinate place, CivilDate day) {
    return geo::light_windows(request, place, 0_m, day, utc_zone()).intervals;
}

bool holds(const Intervals& list, Instant when) {
    return std::any_of(list.begin(), list.end(),
                       [&](const Interval& span) { return span.from <= when && when <= span.until; });
}

/// At every minute of the day the windows hold what `wanted` says; a second either side of a change it need not.
template <class Wanted>
void check_minutes(const LightRequest& request, Coordinate place, CivilDate day, Wanted wanted) {
    const auto found = windows(request, place, day);
    const Interval civil = geo::civil_day(day, utc_zone());
    for (Instant minute = civil.from; minute < civil.until; minute += 1min) {
        const bool now = wanted(minute);
        if (now != wanted(minute - 1s) || now != wanted(minute + 1s))
            continue;
        CAPTURE(geo::iso_text(minute, utc_zone()));
        REQUIRE(holds(found, minute) == now);
    }
}

const std::vector<Coordinate>& places() {
    static const std::vector<Coordinate> list{{47_deg, 9.5_deg},    {62_deg, -7_deg},     {5_deg, 100_deg},
                                              {-23.4_deg, 45_deg},  {-45_deg, 170_deg},   {70_deg, 25_deg},
                                              {-17_deg, 179.9_deg}, {89.9_deg, 0_deg},    {23.4_deg, -120_deg},
                                              {35_deg, -179.9_deg}, {-66.6_deg, 110_deg}, {0_deg, 0_deg}};
    return list;
}

const char* const dates[] = {"2026-03-20", "2026-06-21", "2026-09-04", "2026-12-21"};

/// Upper limb above a flat horizon.
bool is_up(const Coordinate& place, Instant t) {
    const double limb = -(34.0 / 60.0 + geo::sky::sun_semidiameter(geo::sky::sun_vector(geo::sky::precise(t))).value);
    return geo::sky::sun_position(place, 0_m, t).altitude.value >= limb;
}

} // namespace

TEST_CASE("the camera's side holds at the minutes a plain look at the sun's bearing finds") {
    for (const Coordinate& place : places())
        for (const char* date : dates)
            for (const double facing : {0.0, 95.0, 240.0}) {
                CAPTURE(place.latitude.value);
                CAPTURE(date);
                CAPTURE(facing);
                const auto apart = [&](Instant t) {
                    const double azimuth = geo::sky::sun_position(place, 0_m, t).azimuth.value;
                    const double around = std::fmod(azimuth - facing + 720.0, 360.0);
                    return std::min(around, 360.0 - around);
                };
                const auto wish = [&](SunSide side) { return LightWish{.direction = SunBeside{{facing}, side}}; };
                check_minutes(wish(SunSide::behind), place, day_of(date),
                              [&](Instant t) { return is_up(place, t) && apart(t) <= 45.0; });
                check_minutes(wish(SunSide::front), place, day_of(date),
                              [&](Instant t) { return is_up(place, t) && apart(t) >= 135.0; });
                check_minutes(wish(SunSide::side), place, day_of(date),
                              [&](Instant t) { return is_up(place, t) && apart(t) >= 45.0 && apart(t) <= 135.0; });
            }
}

TEST_CASE("a narrow range of bearings is found though the sun runs through it in minutes") {
    // Near the zenith of the tropics at noon: 20 degrees of azimuth in a minute.
    for (const Coordinate& place : places())
        for (const char* date : dates) {
            CAPTURE(place.latitude.value);
            CAPTURE(date);
            for (const auto& [from, until] :
                 {std::pair{235.0, 245.0}, std::pair{350.0, 10.0}, std::pair{90.0, 270.0}}) {
                const double width = std::fmod(until - from + 360.0, 360.0);
                check_minutes(LightWish{.direction = geo::AzimuthRange{{from}, {until}}}, place, day_of(date),
                              [&, from = from](Instant t) {
                                  const double azimuth = geo::sky::sun_position(place, 0_m, t).azimuth.value;
                                  return is_up(place, t) && std::fmod(azimuth - from + 360.0, 360.0) <= width;
                              });
            }
        }
}

TEST_CASE("sun in the picture of a lens is where its own corner angles say") {
    const geo::Lens lens{{24.0}};
    for (const Coordinate& place : places()) {
        CAPTURE(place.latitude.value);
        const geo::SunInFrame frame{250_deg, lens, 5_deg};
        check_minutes(LightWish{.name = LightName::day, .direction = frame}, place, day_of("2026-09-04"),
                      [&](Instant t) {
                          const auto sun = geo::sky::sun_position(place, 0_m, t);
                          return is_up(place, t) && geo::margin(frame, sun) >= 0.0;
                      });
        // A sun that is down is in no picture, whatever light the wish names.
        CHECK(windows(LightWish{.name = LightName::blue, .direction = geo::SunInFrame{280_deg, {{10.0}}}}, place,
                      day_of("2026-09-04"))
                  .empty());
        // What is in the picture is no farther from its middle than the corner.
        const double corner = std::atan(std::hypot(18.0, 12.0) / 24.0) * 57.29577951308232;
        for (const Interval& span : windows(LightWish{.direction = frame}, place, day_of("2026-09-04")))
            for (Instant t = span.from; t <= span.until; t += 1min)
                CHECK(geo::angle_from_axis(geo::sky::sun_position(place, 0_m, t), 250_deg, 5_deg).value < corner + 0.7);
    }
}

TEST_CASE("a wish narrows its name: altitude, half of the day, clock and direction at once") {
    const Coordinate place{62_deg, -7_deg};
    const CivilDate day = day_of("2026-09-04");
    const auto golden = windows(LightName::golden_evening, place, day);
    REQUIRE(golden.size() == 1);
    CHECK(windows(LightWish{.name = LightName::golden_evening}, place, day) == golden);
    // Other limits: the name's half of the day stays.
    CHECK(windows(LightWish{.name = LightName::golden_evening, .sun = geo::SunAltitudeRange{0_deg, 6_deg, {}}}, place,
                  day) == windows(geo::SunAltitudeRange{0_deg, 6_deg, geo::HalfDay::evening}, place, day));
    // The clock cuts.
    const Instant seven = support::utc("2026-09-04T19:00:00Z");
    REQUIRE((golden[0].from < seven && seven < golden[0].until));
    CHECK(windows(LightWish{.name = LightName::golden_evening, .clock = geo::ClockRange{19h, 23h}}, place, day) ==
          Intervals{{seven, golden[0].until}});
    // The sun sets at about 283 degrees: behind the subject of a camera to the west, not of one to the east.
    CHECK(windows(LightWish{.name = LightName::golden_evening, .direction = SunBeside{280_deg}}, place, day) == golden);
    // Beside a name or an altitude the bearing of a sun that is down counts: golden begins below the horizon.
    CHECK(golden[0].until - windows(LightWish{.direction = SunBeside{280_deg}}, place, day).back().until > 10min);
    CHECK(windows(LightWish{.name = LightName::golden_evening, .direction = SunBeside{100_deg}}, place, day).empty());
    CHECK(windows(LightWish{.name = LightName::golden_evening, .direction = SunBeside{100_deg, SunSide::front}}, place,
                  day) == golden);
}

TEST_CASE("the moon's wishes hold at the minutes a plain look at the moon finds") {
    for (const Coordinate& place : places())
        for (int n = 0; n < 30; n += 7) {
            const CivilDate day{std::chrono::sys_days{day_of("2026-11-01")} + std::chrono::days{n}};
            CAPTURE(place.latitude.value);
            CAPTURE(n);
            const auto altitude = [&](Instant t) { return geo::sky::moon_position(place, 0_m, t).altitude.value; };
            const auto lit = [&](Instant t) { return geo::sky::moon_illumination(geo::sky::precise(t)).fraction; };
            const auto limb = [&](Instant t) {
                return -(34.0 / 60.0 + geo::sky::moon_semidiameter(geo::sky::moon_vector(geo::sky::precise(t))).value);
            };
            check_minutes(LightWish{.moon = geo::MoonUp{}}, place, day,
                          [&](Instant t) { return altitude(t) >= limb(t); });
            check_minutes(LightWish{.moon = geo::MoonUp{20_deg, 0.3, 0.9}}, place, day,
                          [&](Instant t) { return altitude(t) >= 20.0 && lit(t) >= 0.3 && lit(t) <= 0.9; });
            check_minutes(LightWish{.moon = geo::MoonAbsent{0.25}}, place, day,
                          [&](Instant t) { return altitude(t) <= limb(t) || lit(t) <= 0.25; });
            // A wish's moon takes the place of the name's.
            CHECK(windows(LightWish{.name = LightName::dark_sky, .moon = geo::MoonAbsent{1.0}}, place, day) ==
                  windows(LightName::night, place, day));
        }
}

TEST_CASE("terrain and cloud are taken from the surroundings when they are given") {
    const Coordinate place{47_deg, 9.5_deg};
    const CivilDate day = day_of("2026-09-04");
    const auto sunlit = windows(LightName::day, place, day);
    REQUIRE(sunlit.size() == 1);
    CHECK(windows(LightName::direct_sun, place, day) == sunlit);
    CHECK(windows(LightName::open_shade, place, day).empty());
    CHECK(geo::needs_terrain(LightName::direct_sun));
    CHECK(geo::needs_terrain(LightName::open_shade));
    CHECK(!geo::needs_terrain(LightName::golden));
    // A valley: sun from 9 to 12 and from 13 to 16.
    const auto at = [](const char* clock) { return support::utc(std::string("2026-09-04T") + clock + ":00Z"); };
    const Intervals clear{{at("09:00"), at("12:00")}, {at("13:00"), at("16:00")}};
    geo::Surroundings valley;
    valley.direct_sun = [&](Interval span) { return geo::clip(clear, span); };
    const auto in_valley = [&](LightName name) {
        return geo::light_windows(name, place, 0_m, day, utc_zone(), valley).intervals;
    };
    CHECK(in_valley(LightName::direct_sun) == clear);
    CHECK(in_valley(LightName::open_shade) ==
          Intervals{{sunlit[0].from, at("09:00")}, {at("12:00"), at("13:00")}, {at("16:00"), sunlit[0].until}});
    CHECK(in_valley(LightName::day) == sunlit);
    // Soft light: twilight under a clear sky, all day under cloud.
    geo::Surroundings cloud;
    cloud.overcast = true;
    const auto clear_soft = windows(LightName::soft, place, day);
    CHECK(clear_soft.size() == 2);
    const auto cloudy = geo::light_windows(LightName::soft, place, 0_m, day, utc_zone(), cloud).intervals;
    REQUIRE(cloudy.size() == 1);
    CHECK(cloudy[0] == Interval{clear_soft[0].from, clear_soft[1].until});
}

TEST_CASE("two weeks searched together give the same windows as day by day") {
    for (const Coordinate& place :
         {Coordinate{62_deg, -7_deg}, Coordinate{69_deg, 20_deg}, Coordinate{-17_deg, 180_deg}}) {
        const CivilDate first = day_of("2026-05-18");
        const auto last = CivilDate{std::chrono::sys_days{first} + std::chrono::days{13}};
        geo::PlaceSky sky(place, 0_m,
                          {geo::civil_day(first, utc_zone()).from - geo::window_margin,
                           geo::civil_day(last, utc_zone()).until + geo::window_margin});
        for (CivilDate day = first; std::chrono::sys_days{day} <= std::chrono::sys_days{last};
             day = geo::next_date(day))
            for (const LightName name : geo::light_names()) {
                const auto together = geo::light_windows({name}, sky, day, utc_zone());
                const auto alone = geo::light_windows(name, place, 0_m, day, utc_zone());
                CAPTURE(geo::to_string(day));
                CAPTURE(geo::to_string(name));
                CHECK(together.intervals == alone.intervals);
                CHECK(together.presence == alone.presence);
            }
    }
}
