#include "cli/write_light.hpp"

#include "cli/clock_words.hpp"
#include "cli/field_values.hpp"
#include "cli/markdown_table.hpp"
#include "cli/number_text.hpp"
#include "cli/plain_text.hpp"
#include "cli/plan_source.hpp"
#include "geo/camera.hpp"
#include "geo/json_text.hpp"
#include "geo/light_definition.hpp"
#include "geo/sky/illuminance.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <cmath>

namespace cli {

using Json = nlohmann::ordered_json;

namespace {

/// "11000 lx", "0.35 lx": two digits are more than the estimate is good for.
std::string lux_text(geo::sky::Lux light) {
    const double step = std::pow(10.0, std::floor(std::log10(light.value)) - 1.0);
    const double nearest = std::round(light.value / step) * step;
    const int decimals = std::max(0, static_cast<int>(-std::floor(std::log10(step) + 0.5)));
    return fixed_text(nearest, decimals) + " lx";
}

std::string shadow_text(geo::Degrees altitude) {
    const auto ratio = geo::sky::shadow_length_ratio(altitude);
    return ratio && *ratio < 100.0 ? fixed_text(*ratio, 1) + "×" : "";
}

std::string sun_text(const LightDay& light, const geo::TimeZone& zone) {
    MarkdownTable table({{"Sun"},
                         {"Time"},
                         {"Height", Align::right},
                         {"Azimuth", Align::right},
                         {"Clear sky", Align::right},
                         {"Shadow", Align::right}});
    for (const SkyMoment& moment : light.moments)
        table.add_row({moment.name, time_text(moment.when, light.date, zone), angle_text(moment.altitude),
                       fixed_text(moment.azimuth.value, 0) + "°",
                       lux_text(geo::sky::clear_sky_illuminance(moment.altitude)), shadow_text(moment.altitude)});
    std::string text = table.empty() ? "" : table.text();
    for (const UncrossedLine& line : light.uncrossed)
        text += (text.empty() ? "" : "\n") + ("The sun stays " + std::string(line.above ? "above " : "below ")) +
                line.name + " all day.\n";
    return text;
}

std::string moon_text(const LightDay& light, const geo::TimeZone& zone) {
    std::string text =
        "Moon: " + light.moon.phase + ", " + fixed_text(light.moon.lit * 100.0, 0) + "% lit at midnight; ";
    if (light.moon.moments.empty())
        text += light.moon.up ? "up all day" : "down all day";
    for (const SkyMoment& moment : light.moon.moments)
        text += (&moment == &light.moon.moments.front() ? "" : ", ") + moment.name + " " +
                time_text(moment.when, light.date, zone) + " at " + fixed_text(moment.azimuth.value, 0) + "°";
    if (light.moon.moments.size() == 1)
        text += light.moon.moments.front().name == "moonrise" ? ", no moonset this day" : ", no moonrise this day";
    text += ".\n";
    if (light.milky_way)
        text += "Milky Way's centre: highest in the dark " + time_text(light.milky_way->when, light.date, zone) + ", " +
                angle_text(light.milky_way->altitude) + " up at " + fixed_text(light.milky_way->azimuth.value, 0) +
                "°.\n";
    return text;
}

std::string camera_text(const LightDay& light, geo::Degrees facing) {
    std::string text;
    for (const SkyMoment& moment : light.moments) {
        const char* verb = moment.name == "sunrise" ? "rises" : moment.name == "sunset" ? "sets" : nullptr;
        if (verb != nullptr)
            text += "Sun " + std::string(verb) + " at bearing " + fixed_text(moment.azimuth.value, 0) + "°, " +
                    beside_camera_text(moment.azimuth, facing) + ".\n";
    }
    return text;
}

std::string day_block(const LightDay& light, std::optional<geo::Degrees> facing, const geo::TimeZone& zone) {
    MarkdownTable table({{"Light"}, {"Sun's height, moon"}, {"When"}, {"Best minute"}});
    for (const LightRow& row : light.rows)
        table.add_row({std::string(geo::to_string(row.name)), limits_text(row),
                       windows_text(row.windows, light.date, zone), best_text(row, light.date, zone)});
    return "\n## " + day_text(light.date) + "\n\n" + table.text() + "\n" + sun_text(light, zone) + "\n" +
           moon_text(light, zone) + (facing ? camera_text(light, *facing) : "");
}

Json presence_json(geo::Presence presence) {
    static constexpr std::array<std::string_view, 3> words{"some", "never", "all_day"};
    return words[static_cast<std::size_t>(presence)];
}

double hundredths(geo::Degrees angle) {
    const double nearest = std::round(angle.value * 100.0) / 100.0;
    return nearest == 0.0 ? 0.0 : nearest;
}

Json row_json(const LightRow& row, const geo::TimeZone& zone) {
    Json windows = Json::array();
    for (std::size_t n = 0; n < row.windows.intervals.size(); ++n) {
        const geo::Interval& window = row.windows.intervals[n];
        windows.push_back({{"from", geo::iso_text(window.from, zone)}, {"until", geo::iso_text(window.until, zone)}});
        if (n < row.best.size() && row.best[n])
            windows.back()["best"] = {{"at", geo::iso_text(row.best[n]->when, zone)},
                                      {"quality", std::round(row.best[n]->quality * 100.0) / 100.0}};
    }
    Json json{{"name", geo::to_string(row.name)}, {"presence", presence_json(row.windows.presence)}};
    if (row.range)
        json["sun_altitude"] = {row.range->low.value, row.range->high.value};
    if (row.range && row.range->when)
        json["when"] = *row.range->when == geo::HalfDay::morning ? "morning" : "evening";
    if (const auto& moon = geo::light_definition(row.name).moon) {
        if (const auto* up = std::get_if<geo::MoonUp>(&*moon))
            json["moon"] = {{"lit", {up->lit_from, up->lit_until}}};
        else
            json["moon"] = {{"down_or_lit_at_most", std::get<geo::MoonAbsent>(*moon).lit_allowed}};
    }
    json["windows"] = windows;
    return json;
}

Json moments_json(const std::vector<SkyMoment>& moments, std::optional<geo::Degrees> facing,
                  const geo::TimeZone& zone) {
    Json list = Json::array();
    for (const SkyMoment& moment : moments) {
        list.push_back({{"name", moment.name},
                        {"at", geo::iso_text(moment.when, zone)},
                        {"altitude", hundredths(moment.altitude)},
                        {"azimuth", hundredths(moment.azimuth)}});
        if (facing)
            list.back()["from_camera"] = hundredths(geo::relative_azimuth(moment.azimuth, *facing));
    }
    return list;
}

Json light_day_json(const LightDay& light, std::optional<geo::Degrees> facing, const geo::TimeZone& zone) {
    Json rows = Json::array(), uncrossed = Json::array();
    for (const LightRow& row : light.rows)
        rows.push_back(row_json(row, zone));
    for (const UncrossedLine& line : light.uncrossed)
        uncrossed.push_back({{"line", line.name}, {"sun", line.above ? "above" : "below"}});
    Json moon{{"phase", light.moon.phase},
              {"lit", std::round(light.moon.lit * 1000.0) / 1000.0},
              {"presence", !light.moon.moments.empty() ? "some"
                           : light.moon.up             ? "up_all_day"
                                                       : "down_all_day"},
              {"moments", moments_json(light.moon.moments, facing, zone)}};
    Json json{{"date", geo::to_string(light.date)},
              {"lights", rows},
              {"sun", moments_json(light.moments, facing, zone)},
              {"uncrossed", uncrossed},
              {"moon", moon}};
    if (light.milky_way)
        json["milky_way"] = moments_json({*light.milky_way}, facing, zone)[0];
    return json;
}

} // namespace

std::string light_tables(const std::vector<LightPlace>& places, const geo::TimeZone& zone) {
    std::string text;
    for (const LightPlace& place : places) {
        text += (text.empty() ? "# " : "\n# ") + escape_markdown(place.name) + " (" + place_text(place.at) + ")\n";
        for (const LightDay& light : place.days)
            text += day_block(light, place.facing, zone);
    }
    const auto has_horizon = [](const LightPlace& place) { return place.horizon != nullptr; };
    return text + "\nTimes of " + zone.name() +
           ", rounded inwards to the minute; heights of the sun's centre without refraction. " +
           horizon_words(std::any_of(places.begin(), places.end(), has_horizon),
                         !std::all_of(places.begin(), places.end(), has_horizon)) +
           "; brightness on level ground is an estimate.\n";
}

std::string horizon_words(bool terrain, bool flat) {
    if (!terrain)
        return "Flat horizon, clear air";
    return flat ? "Horizon of the elevation tiles where they reach, else flat; no trees or houses; clear air"
                : "Horizon of the elevation tiles, no trees or houses; clear air";
}

std::string light_json(const std::vector<LightPlace>& places, const geo::TimeZone& zone) {
    Json list = Json::array();
    for (const LightPlace& place : places) {
        Json days = Json::array();
        for (const LightDay& light : place.days)
            days.push_back(light_day_json(light, place.facing, zone));
        Json json = Json::object();
        if (!place.id.empty())
            json["id"] = place.id;
        json["name"] = place.name;
        json["at"] = {{"lat", place.at.latitude.value}, {"lon", place.at.longitude.value}};
        if (place.facing)
            json["facing_deg"] = place.facing->value;
        json["days"] = days;
        list.push_back(std::move(json));
    }
    const Json json{{"dayweave", program_version()},
                    {"time_zone", zone.name()},
                    {"zone_database", geo::zone_database_version()},
                    {"places", list}};
    return geo::json_text(json);
}

} // namespace cli
