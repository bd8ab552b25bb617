#include "cli/write_light_found.hpp"

#include "cli/clock_words.hpp"
#include "cli/csv_field.hpp"
#include "cli/field_values.hpp"
#include "cli/markdown_table.hpp"
#include "cli/number_text.hpp"
#include "cli/plain_text.hpp"
#include "cli/plan_source.hpp"
#include "geo/camera.hpp"
#include "geo/json_text.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>

namespace cli {

using Json = nlohmann::ordered_json;

namespace {

bool is_moment(const FindWish& wish) {
    return std::holds_alternative<RiseOrSet>(wish.what);
}

/// "241°"; a bearing of 359.7 is north.
std::string bearing_text(geo::Degrees azimuth) {
    return fixed_text(std::fmod(std::round(azimuth.value), 360.0), 0) + "°";
}

std::string bearings_text(const FindWish& wish, const FoundLight& hit, const LightPlace& place) {
    if (!hit.azimuths)
        return "";
    const auto [from, until] = *hit.azimuths;
    std::string text = bearing_text(from) + (is_moment(wish) ? "" : "–" + bearing_text(until));
    if (place.facing)
        text += ", " + beside_camera_text(from, *place.facing) + (is_moment(wish) ? "" : " at first");
    return text;
}

/// Between the minutes that are printed.
std::string printed_length(geo::Interval window) {
    using std::chrono::minutes;
    const auto length = std::chrono::floor<minutes>(window.until) - std::chrono::ceil<minutes>(window.from);
    return span_text(std::max<geo::Seconds>(length, geo::Seconds(0)));
}

std::string quality_text(const FoundLight& hit, const geo::TimeZone& zone) {
    return hit.best
               ? best_text(hit.best->when, hit.window, hit.date, zone) + " (" + fixed_text(hit.best->quality, 2) + ")"
               : "";
}

/// Columns that no line fills are left out.
std::string table_text(const FindWish& wish, const PlaceFound& place, const geo::TimeZone& zone) {
    const auto any = [&](auto has) { return std::any_of(place.found.begin(), place.found.end(), has); };
    const bool has_bearing = any([](const FoundLight& hit) { return hit.azimuths.has_value(); });
    const bool has_best = any([](const FoundLight& hit) { return hit.best.has_value(); });
    std::vector<Column> columns{{"Day"}, {"When"}};
    if (!is_moment(wish))
        columns.push_back({"Length", Align::right});
    if (has_bearing)
        columns.push_back({"Bearing"});
    if (has_best)
        columns.push_back({"Best minute (quality)"});
    MarkdownTable table(columns);
    for (const FoundLight& hit : place.found) {
        std::vector<std::string> row{day_text(hit.date), is_moment(wish) ? time_text(hit.window.from, hit.date, zone)
                                                                         : window_text(hit.window, hit.date, zone)};
        if (!is_moment(wish))
            row.push_back(printed_length(hit.window));
        if (has_bearing)
            row.push_back(bearings_text(wish, hit, place.place));
        if (has_best)
            row.push_back(quality_text(hit, zone));
        table.add_row(row);
    }
    return table.text();
}

std::size_t days_found(const std::vector<FoundLight>& found) {
    std::size_t days = 0;
    for (std::size_t n = 0; n < found.size(); ++n)
        if (n == 0 || found[n].date != found[n - 1].date)
            ++days;
    return days;
}

std::string count_line(const PlaceFound& place) {
    const std::string of = count_text(place.dates.size(), "day");
    const std::size_t days = days_found(place.found);
    return days == 0 ? "On none of " + of + ".\n" : "On " + std::to_string(days) + " of " + of + ".\n";
}

Json instant_json(geo::Instant when, const geo::TimeZone& zone) {
    return geo::iso_text(when, zone);
}

double hundredths(double value) {
    const double nearest = std::round(value * 100.0) / 100.0;
    return nearest == 0.0 ? 0.0 : nearest;
}

/// 0 to below 360, also when rounding would make it 360.
double bearing_hundredths(geo::Degrees azimuth) {
    return std::fmod(hundredths(azimuth.value), 360.0);
}

Json hit_json(const FindWish& wish, const FoundLight& hit, const LightPlace& place, const geo::TimeZone& zone) {
    Json json{{"date", geo::to_string(hit.date)}};
    if (is_moment(wish)) {
        json["at"] = instant_json(hit.window.from, zone);
        if (hit.azimuths) {
            json["azimuth"] = bearing_hundredths(hit.azimuths->first);
            if (place.facing)
                json["from_camera"] = hundredths(geo::relative_azimuth(hit.azimuths->first, *place.facing).value);
        }
        return json;
    }
    json["from"] = instant_json(hit.window.from, zone);
    json["until"] = instant_json(hit.window.until, zone);
    if (hit.azimuths)
        json["azimuths"] = {bearing_hundredths(hit.azimuths->first), bearing_hundredths(hit.azimuths->second)};
    if (hit.best)
        json["best"] = {{"at", instant_json(hit.best->when, zone)}, {"quality", hundredths(hit.best->quality)}};
    return json;
}

} // namespace

std::string found_tables(const FindWish& wish, const std::vector<PlaceFound>& places, const geo::TimeZone& zone) {
    std::string text;
    for (const PlaceFound& place : places) {
        text += (text.empty() ? "# " : "\n# ") + escape_markdown(place.place.name) + " (" + place_text(place.place.at) +
                "): " + escape_markdown(wish.text) + "\n\n";
        if (!place.found.empty())
            text += table_text(wish, place, zone) + "\n";
        text += count_line(place);
    }
    const auto has_horizon = [](const PlaceFound& place) { return place.place.horizon != nullptr; };
    return text + "\nTimes of " + zone.name() + ", windows rounded inwards to the minute. " +
           horizon_words(std::any_of(places.begin(), places.end(), has_horizon),
                         !std::all_of(places.begin(), places.end(), has_horizon)) +
           "; the air moves rising and setting by a minute or more.\n";
}

std::string found_csv(const FindWish& wish, const std::vector<PlaceFound>& places, const geo::TimeZone& zone) {
    std::string text = "place,lat,lon,date,find,from,until,azimuth_from_deg,azimuth_until_deg,best,quality\r\n";
    for (const PlaceFound& place : places)
        for (const FoundLight& hit : place.found) {
            text += csv_field(place.place.id.empty() ? place.place.name : place.place.id) + "," +
                    fixed_text(place.place.at.latitude.value, 6) + "," + fixed_text(place.place.at.longitude.value, 6) +
                    "," + geo::to_string(hit.date) + "," + csv_field(wish.text) + "," +
                    geo::iso_text(hit.window.from, zone) + "," + geo::iso_text(hit.window.until, zone) + ",";
            text += hit.azimuths ? fixed_text(bearing_hundredths(hit.azimuths->first), 2) + "," +
                                       fixed_text(bearing_hundredths(hit.azimuths->second), 2) + ","
                                 : ",,";
            text += hit.best ? geo::iso_text(hit.best->when, zone) + "," + fixed_text(hit.best->quality, 2) : ",";
            text += "\r\n";
        }
    return text;
}

std::string found_json(const FindWish& wish, const std::vector<PlaceFound>& places, const geo::TimeZone& zone) {
    Json list = Json::array();
    for (const PlaceFound& place : places) {
        Json found = Json::array();
        for (const FoundLight& hit : place.found)
            found.push_back(hit_json(wish, hit, place.place, zone));
        Json json = Json::object();
        if (!place.place.id.empty())
            json["id"] = place.place.id;
        json["name"] = place.place.name;
        json["at"] = {{"lat", place.place.at.latitude.value}, {"lon", place.place.at.longitude.value}};
        json["horizon"] = place.place.horizon ? "terrain" : "flat";
        json["days_looked_at"] = place.dates.size();
        json["found"] = found;
        list.push_back(std::move(json));
    }
    const Json json{{"dayweave", program_version()},
                    {"time_zone", zone.name()},
                    {"zone_database", geo::zone_database_version()},
                    {"find", wish.text},
                    {"places", list}};
    return geo::json_text(json);
}

} // namespace cli
