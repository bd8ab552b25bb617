#include "cli/write_places.hpp"

#include "cli/clock_words.hpp"
#include "cli/csv_field.hpp"
#include "cli/emergency_words.hpp"
#include "cli/markdown_table.hpp"
#include "cli/number_text.hpp"
#include "cli/place_hours.hpp"
#include "cli/plain_text.hpp"
#include "cli/plan_source.hpp"
#include "geo/json_text.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>

namespace cli {

using Json = nlohmann::ordered_json;
using routing::places::Place;
using routing::shoot::Nearby;
using routing::shoot::NearbyPlace;
using routing::shoot::Region;
using routing::shoot::Shoot;

namespace {

constexpr const char* hours_caution =
    "Opening hours are the map's, which may be old, and free rooms, fuel and pitches are not on it: ring first.";
constexpr const char* closures_caution = "Roads shut for a time count as open: give --at to keep off those shut then.";

bool knows_timed_closures(const Shoot& shoot) {
    return std::any_of(shoot.closures.begin(), shoot.closures.end(),
                       [](const auto& closure) { return closure.from || closure.until; });
}

std::vector<std::string> cautions_of(const PlacesAsked& asked, const Shoot& shoot) {
    std::vector<std::string> lines;
    if (asked.care)
        lines.emplace_back(emergency_caution);
    lines.emplace_back(hours_caution);
    if (!asked.at && knows_timed_closures(shoot))
        lines.emplace_back(closures_caution);
    return lines;
}

std::string kind_words(const Place& place) {
    return std::string(routing::places::in_words(place.kind)) + (place.emergency ? ", emergency ward" : "");
}

std::string contact_text(const Place& place) {
    return escape_markdown(place.phone) + (place.phone.empty() || place.website.empty() ? "" : ", ") +
           escape_markdown(place.website);
}

std::string heading_text(const PlacesAsked& asked, const Nearby& nearby, const Shoot& shoot) {
    std::string text = "# What the map offers near " + escape_markdown(asked.near.name) + "\n\n";
    text += count_text(nearby.places.size(), "place") + " (" + asked.kind + ")";
    if (asked.within)
        text += " within " + span_text(*asked.within) + " by van";
    if (nearby.more > 0)
        text += ", and " + std::to_string(nearby.more) + " more (--most 0 tells all)";
    text += asked.care ? "; emergency wards first, then least detour first" : "; least detour first";
    text += asked.then ? ", going on to " + escape_markdown(asked.then->name) + ", " + span_text(nearby.straight) +
                             " when going straight"
                       : ", there and back";
    text += ".";
    if (asked.walk.count() > 0)
        text += " Times begin at the van, " + span_text(asked.walk) + " on foot.";
    if (asked.at)
        text += " States are those of " + geo::to_string(geo::civil_date(*asked.at, shoot.zone)) + ", " +
                geo::clock_text(*asked.at, shoot.zone) + ".";
    return text + "\n";
}

Json hours_json(const Place& place, const Shoot& shoot) {
    Json days = Json::array();
    for (const HoursOfDay& day : hours_of_days(place, shoot)) {
        Json spans = Json::array();
        for (const auto& stretch : day.stretches) {
            Json span{{"from", geo::iso_text(stretch.time.from, shoot.zone)},
                      {"until", geo::iso_text(stretch.time.until, shoot.zone)},
                      {"state", state_word(stretch.state)}};
            if (stretch.unless_holiday)
                span["unless_holiday"] = true;
            spans.push_back(span);
        }
        days.push_back({{"date", geo::to_string(day.date)}, {"spans", spans}});
    }
    return days;
}

Json position_json(geo::Coordinate at) {
    const auto rounded = [](geo::Degrees angle) { return std::round(angle.value * 1e7) / 1e7; };
    return {{"lat", rounded(at.latitude)}, {"lon", rounded(at.longitude)}};
}

Json place_json(const NearbyPlace& found, const PlacesAsked& asked, const Shoot& shoot, const Region& region) {
    const Place& place = region.places[found.place];
    Json json{{"id", routing::shoot::place_id(place)},
              {"kind", routing::places::to_string(place.kind)},
              {"name", one_line(place.name)},
              {"at", position_json(place.at)},
              {"drive_seconds", found.there.count()},
              {"detour_seconds", found.detour.count()},
              {"metres", std::round(found.length.value)},
              {"opening_hours", one_line(place.opening_hours)},
              {"days", hours_json(place, shoot)},
              {"phone", one_line(place.phone)},
              {"website", one_line(place.website)}};
    if (asked.at)
        json["state"] = state_word(state_at(place, *asked.at, shoot));
    if (place.emergency)
        json["emergency"] = true;
    if (found.by_avoided_road)
        json["by_avoided_road"] = true;
    return json;
}

Json spot_json(const NearSpot& spot) {
    return {{"name", one_line(spot.name)}, {"at", position_json(spot.at)}};
}

} // namespace

std::string places_table(const PlacesAsked& asked, const Nearby& nearby, const Shoot& shoot, const Region& region) {
    MarkdownTable table({{"Place"},
                         {"What"},
                         {asked.at                 ? "Then"
                          : shoot.days.size() == 1 ? "That day"
                                                   : "On the days"},
                         {"Drive", Align::right},
                         {"Detour", Align::right},
                         {"By road", Align::right},
                         {"Phone, website"},
                         {"At"},
                         {"Hours on the map"}});
    bool avoided = false;
    for (const NearbyPlace& found : nearby.places) {
        const Place& place = region.places[found.place];
        avoided = avoided || found.by_avoided_road;
        table.add_row({escape_markdown(place.name), kind_words(place),
                       asked.at ? state_text(place, *asked.at, shoot) : hours_on_days(place, shoot),
                       span_text(found.there) + (found.by_avoided_road ? " \\*" : ""), span_text(found.detour),
                       length_text(found.length), contact_text(place), degrees_text(place.at),
                       escape_markdown(place.opening_hours)});
    }
    std::string text = heading_text(asked, nearby, shoot) + "\n" + (table.empty() ? "" : table.text() + "\n");
    if (avoided)
        text += "\\* only by roads the crew would rather not use.\n\n";
    if (asked.care && std::none_of(nearby.places.begin(), nearby.places.end(),
                                   [&](const NearbyPlace& found) { return region.places[found.place].emergency; }))
        text += "None of these is known to have an emergency ward: find out before the day.\n\n";
    if (nearby.cut_off > 0)
        text += count_text(nearby.cut_off, "place") + " that no open road leads to and on from left out.\n\n";
    for (const std::string& caution : cautions_of(asked, shoot))
        text += "- " + caution + "\n";
    return text + "\nMap data " + attribution + ".\n";
}

std::string places_json(const PlacesAsked& asked, const Nearby& nearby, const Shoot& shoot, const Region& region) {
    Json places = Json::array();
    for (const NearbyPlace& found : nearby.places)
        places.push_back(place_json(found, asked, shoot, region));
    Json json{{"near", spot_json(asked.near)},
              {"then", asked.then ? spot_json(*asked.then) : Json(nullptr)},
              {"kind", asked.kind},
              {"within_minutes", asked.within ? Json(asked.within->count()) : Json(nullptr)},
              {"when", asked.at ? Json(geo::iso_text(*asked.at, shoot.zone)) : Json(nullptr)},
              {"straight_seconds", nearby.straight.count()},
              {"places", places},
              {"more", nearby.more},
              {"cut_off", nearby.cut_off},
              {"cautions", cautions_of(asked, shoot)},
              {"attribution", attribution}};
    return geo::json_text(json);
}

std::string places_csv(const PlacesAsked& asked, const Nearby& nearby, const Shoot& shoot, const Region& region) {
    std::string text = "id,kind,name,emergency,lat,lon,drive_seconds,detour_seconds,metres,state,days,opening_hours,"
                       "phone,website\r\n";
    for (const NearbyPlace& found : nearby.places) {
        const Place& place = region.places[found.place];
        text += routing::shoot::place_id(place) + "," + std::string(routing::places::to_string(place.kind)) + "," +
                csv_field(one_line(place.name)) + "," + (place.emergency ? "yes" : "") + "," +
                fixed_text(place.at.latitude.value, 6) + "," + fixed_text(place.at.longitude.value, 6) + "," +
                std::to_string(found.there.count()) + "," + std::to_string(found.detour.count()) + "," +
                fixed_text(found.length.value, 0) + "," +
                (asked.at ? state_word(state_at(place, *asked.at, shoot)) : "") + "," +
                csv_field(hours_on_days(place, shoot)) + "," + csv_field(one_line(place.opening_hours)) + "," +
                csv_field(one_line(place.phone)) + "," + csv_field(one_line(place.website)) + "\r\n";
    }
    return text;
}

} // namespace cli
