#include "routing/shoot/scene_light.hpp"

#include "routing/shoot/sky_kinds.hpp"

#include "geo/sky/sun.hpp"
#include "geo/terrain/direct_sun.hpp"
#include "routing/shoot/ground.hpp"

#include <algorithm>
#include <array>
#include <cstdio>
#include <string_view>

namespace routing::shoot {

namespace {

/// Terrain heights are not read yet; 1 km of height moves the sun by less than 0.001 degrees.
constexpr geo::Metres sea_level{0.0};

std::string clock(geo::ClockTime time) {
    char text[16];
    std::snprintf(text, sizeof text, "%02d:%02d", static_cast<int>(time.count() / 60),
                  static_cast<int>(time.count() % 60));
    return text;
}

std::string number(double value) {
    char text[32];
    std::snprintf(text, sizeof text, "%g", value);
    return text;
}

std::string percent(double share) {
    return number(share * 100.0) + "%";
}

std::string sun_text(const geo::SunAltitudeRange& range) {
    std::string text = "sun " + number(range.low.value) + "° to " + number(range.high.value) + "°";
    if (range.when)
        text += *range.when == geo::HalfDay::morning ? ", morning" : ", evening";
    return text;
}

std::string clock_text(const geo::ClockRange& range) {
    return clock(range.from) + "–" + clock(range.until) + " by the clock";
}

struct DirectionText {
    std::string operator()(const geo::SunBeside& wish) const {
        static constexpr const char* sides[] = {"behind the subject", "to the side", "in front of the subject"};
        return "sun " + std::string(sides[static_cast<int>(wish.side)]) + " (camera to " + number(wish.facing.value) +
               "°)";
    }
    std::string operator()(const geo::AzimuthRange& range) const {
        return "sun at bearing " + number(range.from.value) + "° to " + number(range.until.value) + "°";
    }
    std::string operator()(const geo::SunInFrame& wish) const {
        return "sun in the picture (camera to " + number(wish.facing.value) + "°, " +
               number(wish.lens.focal_length.value) + " mm)";
    }
};

std::string wish_text(const geo::LightWish& wish) {
    std::string text;
    const auto add = [&](const std::string& part) { text += (text.empty() ? "" : ", ") + part; };
    if (wish.name != geo::LightName::any)
        add(std::string(geo::to_string(wish.name)));
    if (wish.sun)
        add(sun_text(*wish.sun));
    if (wish.direction)
        add(std::visit(DirectionText{}, *wish.direction));
    if (wish.moon)
        add(moon_text(*wish.moon));
    if (wish.clock)
        add(clock_text(*wish.clock));
    if (wish.min_quality > 0.0)
        add("quality at least " + number(wish.min_quality));
    return text.empty() ? "any" : text;
}

struct RequestText {
    std::string operator()(geo::LightName name) const { return std::string(geo::to_string(name)); }
    std::string operator()(const geo::SunAltitudeRange& range) const { return sun_text(range); }
    std::string operator()(const geo::ClockRange& range) const { return clock_text(range); }
    std::string operator()(const geo::LightWish& wish) const { return wish_text(wish); }
};

} // namespace

std::string moon_text(const geo::MoonWish& wish) {
    if (const auto* absent = std::get_if<geo::MoonAbsent>(&wish))
        return absent->lit_allowed > 0.0 ? "moon down or at most " + percent(absent->lit_allowed) + " lit"
                                         : "moon down";
    const auto& up = std::get<geo::MoonUp>(wish);
    std::string text = up.above ? "moon above " + number(up.above->value) + "°" : "moon up";
    if (up.lit_from > 0.0 || up.lit_until < 1.0)
        text += ", " + percent(up.lit_from) + " to " + percent(up.lit_until) + " lit";
    return text;
}

std::string light_text(const std::vector<geo::LightRequest>& light) {
    std::string text;
    for (const geo::LightRequest& request : light)
        text += (text.empty() ? "" : " or ") + std::visit(RequestText{}, request);
    return text;
}

geo::Interval working_span(const ShootDay& day, const geo::TimeZone& zone) {
    const Instant call = geo::instant_of(day.date, day.earliest_call, zone);
    const geo::CivilDate wrap_date = day.latest_wrap > day.earliest_call ? day.date : geo::next_date(day.date);
    return {call, std::max(call, geo::instant_of(wrap_date, day.latest_wrap, zone))};
}

geo::Surroundings surroundings_of(const Shoot& shoot, const SceneOption& option, geo::CivilDate day) {
    geo::Surroundings around = surroundings_of(shoot.locations[option.location]);
    if (const std::string* told = told_sky(shoot, day); told != nullptr && *told != "any")
        around.overcast = is_closed_sky(*told);
    else
        around.overcast = !option.sky.empty() && std::all_of(option.sky.begin(), option.sky.end(), is_closed_sky);
    return around;
}

geo::Intervals light_in_day(const Shoot& shoot, const SceneOption& option, const ShootDay& day) {
    if (const std::string* told = told_sky(shoot, day.date); told != nullptr && !suits(option, *told))
        return {};
    const geo::Coordinate at = shoot.locations[option.location].at;
    const geo::Interval span = working_span(day, shoot.zone);
    const geo::Surroundings around = surroundings_of(shoot, option, day.date);
    geo::Intervals spans = geo::light_windows(option.light, at, sea_level, day.date, shoot.zone, around).intervals;
    // A working day past midnight reaches into the next civil day's light.
    if (geo::civil_date(span.until, shoot.zone) != day.date) {
        const geo::CivilDate next = geo::next_date(day.date);
        const geo::Intervals more = geo::light_windows(option.light, at, sea_level, next, shoot.zone, around).intervals;
        spans.insert(spans.end(), more.begin(), more.end());
        spans = geo::join(std::move(spans));
    }
    return geo::clip(spans, span);
}

std::string ground_note(const Shoot& shoot, const SceneOption& option, Instant start, Instant end) {
    const Location& location = shoot.locations[option.location];
    if (!location.horizon)
        return "";
    const geo::Intervals shade = geo::terrain::direct_sun(location.at, *location.horizon, {start, end}).open_shade;
    if (shade.empty())
        return "";
    if (shade.front().from <= start && shade.front().until >= end)
        return "the sun is behind the ground";
    if (shade.front().from > start)
        return "the sun goes behind the ground at " + geo::clock_text(shade.front().from, shoot.zone);
    return "the sun comes over the ground at " + geo::clock_text(shade.front().until, shoot.zone);
}

StopLight light_of(const Shoot& shoot, const SceneOption& option, const ShootDay& day, Instant start, Instant end) {
    StopLight light;
    const auto window_around = [&](const std::vector<geo::LightRequest>& requests) -> std::optional<geo::Interval> {
        SceneOption asked = option;
        asked.light = requests;
        for (const geo::Interval& span : light_in_day(shoot, asked, day))
            if (span.from <= start && end <= span.until)
                return span;
        return std::nullopt;
    };
    // One of several lights when it holds the whole of filming, else their union.
    for (const geo::LightRequest& request : option.light) {
        if (const auto span = window_around({request})) {
            light.name = light_text({request});
            light.window = *span;
            break;
        }
    }
    if (light.name.empty()) {
        light.name = light_text(option.light);
        light.window = window_around(option.light).value_or(geo::Interval{start, end});
    }
    const geo::Coordinate at = shoot.locations[option.location].at;
    const geo::sky::SkyPosition first = geo::sky::sun_position(at, sea_level, start);
    const geo::sky::SkyPosition last = geo::sky::sun_position(at, sea_level, end);
    light.altitude_start = first.altitude;
    light.azimuth_start = first.azimuth;
    light.altitude_end = last.altitude;
    light.azimuth_end = last.azimuth;
    return light;
}

} // namespace routing::shoot
