#include "cli/write_light.hpp"

#include "cli/clock_words.hpp"
#include "cli/field_values.hpp"
#include "cli/markdown_table.hpp"
#include "cli/number_text.hpp"
#include "cli/plain_text.hpp"
#include "cli/plan_source.hpp"
#include "geo/json_text.hpp"

#include <nlohmann/json.hpp>

#include <array>
#include <cmath>

namespace cli {

using Json = nlohmann::ordered_json;

namespace {

std::string sun_text(const LightDay& light, const geo::TimeZone& zone) {
    MarkdownTable table({{"Sun"}, {"Time"}, {"Height", Align::right}, {"Azimuth", Align::right}});
    for (const SunMoment& moment : light.moments)
        table.add_row({moment.name, time_text(moment.when, light.date, zone), angle_text(moment.altitude),
                       fixed_text(moment.azimuth.value, 0) + "°"});
    std::string text = table.empty() ? "" : table.text();
    for (const UncrossedLine& line : light.uncrossed)
        text += (text.empty() ? "" : "\n") + ("The sun stays " + std::string(line.above ? "above " : "below ")) +
                line.name + " all day.\n";
    return text;
}

std::string day_block(const LightDay& light, const geo::TimeZone& zone) {
    MarkdownTable table({{"Light"}, {"Sun's height"}, {"When"}});
    for (const LightRow& row : light.rows)
        table.add_row({std::string(geo::to_string(row.name)), range_text(row.range),
                       windows_text(row.windows, light.date, zone)});
    return "\n## " + day_text(light.date) + "\n\n" + table.text() + "\n" + sun_text(light, zone);
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
    for (const geo::Interval& window : row.windows.intervals)
        windows.push_back({{"from", geo::iso_text(window.from, zone)}, {"until", geo::iso_text(window.until, zone)}});
    Json json{{"name", geo::to_string(row.name)}, {"presence", presence_json(row.windows.presence)}};
    if (row.range)
        json["sun_altitude"] = {row.range->low.value, row.range->high.value};
    if (row.range && row.range->when)
        json["when"] = *row.range->when == geo::HalfDay::morning ? "morning" : "evening";
    json["windows"] = windows;
    return json;
}

Json light_day_json(const LightDay& light, const geo::TimeZone& zone) {
    Json rows = Json::array(), moments = Json::array(), uncrossed = Json::array();
    for (const LightRow& row : light.rows)
        rows.push_back(row_json(row, zone));
    for (const SunMoment& moment : light.moments)
        moments.push_back({{"name", moment.name},
                           {"at", geo::iso_text(moment.when, zone)},
                           {"altitude", hundredths(moment.altitude)},
                           {"azimuth", hundredths(moment.azimuth)}});
    for (const UncrossedLine& line : light.uncrossed)
        uncrossed.push_back({{"line", line.name}, {"sun", line.above ? "above" : "below"}});
    return {{"date", geo::to_string(light.date)}, {"lights", rows}, {"sun", moments}, {"uncrossed", uncrossed}};
}

} // namespace

std::string light_tables(const std::vector<LightPlace>& places, const geo::TimeZone& zone) {
    std::string text;
    for (const LightPlace& place : places) {
        text += (text.empty() ? "# " : "\n# ") + escape_markdown(place.name) + " (" + place_text(place.at) + ")\n";
        for (const LightDay& light : place.days)
            text += day_block(light, zone);
    }
    return text + "\nTimes of " + zone.name() +
           ", rounded inwards to the minute; heights of the sun's centre without refraction. Flat horizon, clear "
           "air.\n";
}

std::string light_json(const std::vector<LightPlace>& places, const geo::TimeZone& zone) {
    Json list = Json::array();
    for (const LightPlace& place : places) {
        Json days = Json::array();
        for (const LightDay& light : place.days)
            days.push_back(light_day_json(light, zone));
        Json json = Json::object();
        if (!place.id.empty())
            json["id"] = place.id;
        json["name"] = place.name;
        json["at"] = {{"lat", place.at.latitude.value}, {"lon", place.at.longitude.value}};
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
