#include "cli/light_day.hpp"

#include "cli/clock_words.hpp"
#include "cli/number_text.hpp"
#include "geo/camera.hpp"
#include "geo/light_definition.hpp"
#include "geo/sky/crossing_search.hpp"
#include "geo/sky/moon_events.hpp"
#include "geo/sky/moon_phase.hpp"
#include "geo/sky/star.hpp"
#include "geo/sky/sun_events.hpp"
#include "routing/shoot/scene_light.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace cli {

namespace {

constexpr geo::Metres sea_level{0.0};

struct NamedLine {
    geo::sky::SunLine line;
    const char* rising;
    const char* sinking;
    const char* name;
};

const std::array<NamedLine, 4>& sun_lines() {
    using geo::Degrees;
    static const std::array<NamedLine, 4> lines{{
        {geo::sky::HorizonRule::upper_limb, "sunrise", "sunset", "the horizon"},
        {Degrees{-6.0}, "civil dawn", "civil dusk", "the limit of civil twilight (-6°)"},
        {Degrees{-12.0}, "nautical dawn", "nautical dusk", "the limit of nautical twilight (-12°)"},
        {Degrees{-18.0}, "astronomical dawn", "astronomical dusk", "the limit of astronomical twilight (-18°)"},
    }};
    return lines;
}

SkyMoment moment(std::string name, geo::Coordinate place, geo::Instant when) {
    const auto sun = geo::sky::sun_position(place, sea_level, when);
    return {std::move(name), when, sun.altitude, sun.azimuth};
}

void add_crossings(LightDay& light, geo::Coordinate place, geo::Interval span) {
    for (const NamedLine& line : sun_lines()) {
        const auto crossings = geo::sky::sun_crossings(place, sea_level, line.line, span);
        for (const auto& crossing : crossings)
            light.moments.push_back(moment(crossing.rising ? line.rising : line.sinking, place, crossing.when));
        if (crossings.empty()) {
            const geo::sky::SunView view(place, sea_level);
            light.uncrossed.push_back({line.name, view.height_above(line.line, span.from).value > 0.0});
        }
    }
}

void add_highest(LightDay& light, geo::Coordinate place, geo::Interval span) {
    const geo::sky::SunView view(place, sea_level);
    const auto turns = geo::sky::find_turning_points(
        [&](geo::sky::PreciseInstant when) { return view.altitude(when).value; }, {span.from, span.until});
    if (turns.empty())
        return;
    const auto highest = *std::max_element(
        turns.begin(), turns.end(), [&](const auto& a, const auto& b) { return view.altitude(a) < view.altitude(b); });
    light.moments.push_back(moment("highest sun", place, std::chrono::round<geo::Seconds>(highest)));
}

MoonDay moon_of_day(geo::Coordinate place, geo::Interval span) {
    MoonDay moon;
    geo::Interval inside = span;
    inside.until -= geo::Seconds(1); // the next day's first instant is not this day's
    const auto crossings = geo::sky::moon_crossings(place, sea_level, inside);
    for (const auto& crossing : crossings) {
        const auto at = geo::sky::moon_position(place, sea_level, crossing.when);
        moon.moments.push_back({crossing.rising ? "moonrise" : "moonset", crossing.when, at.altitude, at.azimuth});
    }
    moon.up = crossings.empty()
                  ? geo::sky::MoonView(place, sea_level).height_above_horizon(geo::sky::precise(span.from)).value > 0.0
                  : !crossings.front().rising;
    const auto midnight = geo::sky::precise(span.until);
    moon.phase = geo::sky::phase_words(geo::sky::moon_elongation(midnight));
    moon.lit = geo::sky::moon_illumination(midnight).fraction;
    return moon;
}

/// Looked for every five minutes: it moves no more than a degree meanwhile.
std::optional<SkyMoment> milky_way_of(geo::Coordinate place, const geo::Intervals& dark) {
    std::optional<SkyMoment> highest;
    for (const geo::Interval& span : dark)
        for (geo::Instant when = span.from; when <= span.until; when += std::chrono::minutes(5)) {
            const auto centre = geo::sky::star_position(geo::sky::galactic_centre, place, sea_level, when);
            if (centre.altitude.value > 0.0 && (!highest || centre.altitude > highest->altitude))
                highest = SkyMoment{"Milky Way's centre", when, centre.altitude, centre.azimuth};
        }
    return highest;
}

LightDay light_of_day(geo::Coordinate place, geo::PlaceSky& sky, geo::CivilDate day, const geo::TimeZone& zone,
                      const geo::Surroundings& around) {
    LightDay light;
    light.date = day;
    for (const geo::LightName name : listed_lights(bool(around.direct_sun))) {
        LightRow row{name, geo::sun_range(name), geo::light_windows({name}, sky, day, zone, around)};
        for (const geo::Interval& window : row.windows.intervals)
            row.best.push_back(best_minute_of({.name = name}, place, window));
        light.rows.push_back(std::move(row));
    }
    const geo::Interval span = geo::civil_day(day, zone);
    add_crossings(light, place, span);
    add_highest(light, place, span);
    std::stable_sort(light.moments.begin(), light.moments.end(),
                     [](const SkyMoment& a, const SkyMoment& b) { return a.when < b.when; });
    light.moon = moon_of_day(place, span);
    for (const LightRow& row : light.rows)
        if (row.name == geo::LightName::dark_sky)
            light.milky_way = milky_way_of(place, row.windows.intervals);
    return light;
}

} // namespace

std::vector<geo::LightName> listed_lights(bool with_terrain) {
    std::vector<geo::LightName> names = geo::light_names();
    if (!with_terrain)
        std::erase_if(names, geo::needs_terrain);
    return names;
}

LightDay light_of_day(geo::Coordinate place, geo::CivilDate day, const geo::TimeZone& zone,
                      const geo::Surroundings& around) {
    return light_of_days(place, day, 1, zone, around).front();
}

std::vector<LightDay> light_of_days(geo::Coordinate place, geo::CivilDate first, int days, const geo::TimeZone& zone,
                                    const geo::Surroundings& around) {
    const auto day_after = [&](int n) { return geo::CivilDate{std::chrono::sys_days(first) + std::chrono::days(n)}; };
    geo::PlaceSky sky(place, sea_level,
                      {geo::civil_day(first, zone).from - geo::window_margin,
                       geo::civil_day(day_after(days - 1), zone).until + geo::window_margin});
    std::vector<LightDay> light;
    for (int n = 0; n < days; ++n)
        light.push_back(light_of_day(place, sky, day_after(n), zone, around));
    return light;
}

namespace {

/// "-4°", "-0.83°"
std::string limit_text(geo::Degrees limit) {
    return number_text(std::round(limit.value * 100.0) / 100.0) + "°";
}

} // namespace

std::optional<geo::BestTime> best_minute_of(const geo::LightWish& light, geo::Coordinate place, geo::Interval window) {
    constexpr double worth_telling = 0.01;
    const geo::BestTime best = geo::best_minute({light}, place, sea_level, window);
    const double mean = geo::mean_quality({light}, place, sea_level, window);
    return best.quality - mean > worth_telling ? std::optional(best) : std::nullopt;
}

std::string best_text(geo::Instant best, geo::Interval window, geo::CivilDate day, const geo::TimeZone& zone) {
    using std::chrono::minutes;
    const geo::Instant whole =
        std::min<geo::Instant>(std::chrono::ceil<minutes>(best), std::chrono::floor<minutes>(window.until));
    return time_text(whole, day, zone);
}

std::string best_text(const LightRow& row, geo::CivilDate day, const geo::TimeZone& zone) {
    std::string text;
    for (std::size_t n = 0; n < row.best.size(); ++n)
        if (row.best[n])
            text += (text.empty() ? "" : ", ") + best_text(row.best[n]->when, row.windows.intervals[n], day, zone);
    return text;
}

std::string range_text(const std::optional<geo::SunAltitudeRange>& range) {
    if (!range)
        return "any height";
    std::string text;
    if (range->low.value <= -90.0)
        text = "below " + limit_text(range->high);
    else if (range->high.value >= 90.0)
        text = "above " + limit_text(range->low);
    else
        text = limit_text(range->low) + " to " + limit_text(range->high);
    if (range->when)
        text += *range->when == geo::HalfDay::morning ? ", morning" : ", evening";
    return text;
}

std::string limits_text(const LightRow& row) {
    const auto& moon = geo::light_definition(row.name).moon;
    return range_text(row.range) + (moon ? ", " + routing::shoot::moon_text(*moon) : "");
}

std::string beside_camera_text(geo::Degrees azimuth, geo::Degrees facing) {
    const double beside = std::round(geo::relative_azimuth(azimuth, facing).value);
    if (beside == 0.0)
        return "ahead of the camera";
    if (std::abs(beside) == 180.0)
        return "behind the camera";
    return number_text(std::abs(beside)) + "° " + (beside < 0.0 ? "left" : "right") + " of the camera";
}

std::string windows_text(const geo::LightWindows& windows, geo::CivilDate day, const geo::TimeZone& zone) {
    if (windows.presence == geo::Presence::never)
        return "never";
    if (windows.presence == geo::Presence::all_day)
        return "all day";
    std::string text;
    for (const geo::Interval& window : windows.intervals)
        text += (text.empty() ? "" : ", ") + window_text(window, day, zone);
    return text;
}

} // namespace cli
