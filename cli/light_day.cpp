#include "cli/light_day.hpp"

#include "cli/clock_words.hpp"
#include "cli/number_text.hpp"
#include "geo/sky/crossing_search.hpp"
#include "geo/sky/sun_events.hpp"

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

SunMoment moment(std::string name, geo::Coordinate place, geo::Instant when) {
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

} // namespace

std::vector<geo::LightName> listed_lights() {
    std::vector<geo::LightName> names = geo::light_names();
    std::erase_if(names, geo::needs_terrain);
    return names;
}

LightDay light_of_day(geo::Coordinate place, geo::CivilDate day, const geo::TimeZone& zone) {
    LightDay light;
    light.date = day;
    for (const geo::LightName name : listed_lights())
        light.rows.push_back({name, geo::sun_range(name), geo::light_windows(name, place, sea_level, day, zone)});
    const geo::Interval span = geo::civil_day(day, zone);
    add_crossings(light, place, span);
    add_highest(light, place, span);
    std::stable_sort(light.moments.begin(), light.moments.end(),
                     [](const SunMoment& a, const SunMoment& b) { return a.when < b.when; });
    return light;
}

namespace {

/// "-4°", "-0.83°"
std::string limit_text(geo::Degrees limit) {
    return number_text(std::round(limit.value * 100.0) / 100.0) + "°";
}

} // namespace

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
