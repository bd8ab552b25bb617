#include "cli/plan_stop_fields.hpp"

#include "cli/field_values.hpp"
#include "cli/known_names.hpp"
#include "cli/plan_words.hpp"
#include "routing/roads/timed/shut_times.hpp"

#include <algorithm>
#include <cmath>

namespace cli {

using routing::shoot::Leg;
using routing::shoot::PlanStop;
using routing::shoot::PlanStopKind;
using routing::shoot::StopLight;

namespace {

constexpr const char* plan_mend = "a plan holds it always: plan anew";
constexpr std::int64_t longest_span = 400LL * 86400; // seconds; more than a year is no plan of days

std::pair<geo::Degrees, geo::Degrees> needed_angles(const Members& members, std::string_view key, double low,
                                                    double high) {
    const auto field = members.need(key, plan_mend);
    const auto items = field ? field->list("two angles") : std::nullopt;
    if (!items)
        return {};
    if (items->size() != 2) {
        field->fault("is no pair of angles", "give the angle at start and end, [5.2, -0.4]");
        return {};
    }
    return {{(*items)[0].number(low, high, "degrees").value_or(0.0)},
            {(*items)[1].number(low, high, "degrees").value_or(0.0)}};
}

StopLight read_stop_light(const Field& field, const geo::TimeZone& zone) {
    const Members members = field.object({"name", "from", "until", "quality", "sun_altitude", "sun_azimuth"});
    StopLight light;
    light.name = needed_any_text(members, "name");
    light.window = {needed_instant(members, "from", zone), needed_instant(members, "until", zone)};
    if (light.window.until < light.window.from)
        field.fault("ends before it begins", "give from and until in order of time");
    std::tie(light.altitude_start, light.altitude_end) = needed_angles(members, "sun_altitude", -90, 90);
    std::tie(light.azimuth_start, light.azimuth_end) = needed_angles(members, "sun_azimuth", 0, 360);
    if (const auto quality = members.find("quality"))
        quality->number(0, 1, "");
    return light;
}

std::uint16_t read_notes(const Members& members) {
    std::uint16_t bits = 0;
    if (const auto notes = members.find("notes")) {
        std::vector<std::string_view> words;
        for (const RoadNoteWord& word : road_note_words)
            words.push_back(word.word);
        for (const Field& item : notes->list("notes").value_or(std::vector<Field>{})) {
            if (const auto word = read_word(item, words))
                bits = static_cast<std::uint16_t>(bits | road_note_words[*word].note);
        }
    }
    return bits;
}

/// What a stretch of road and an instruction have in common.
template <class Stretch>
Stretch read_stretch(const Members& members) {
    Stretch road;
    road.name = needed_any_text(members, "name");
    road.length = needed_metres(members, "metres");
    if (const auto seconds = members.need("seconds", plan_mend)) {
        const double most = static_cast<double>(routing::roads::closed - 1) / 1000.0;
        road.time = static_cast<routing::roads::Milliseconds>(
            std::llround(seconds->number(0, most, "seconds").value_or(0.0) * 1000.0));
    }
    road.notes = read_notes(members);
    return road;
}

routing::roads::RoadStretch read_road(const Field& field) {
    return read_stretch<routing::roads::RoadStretch>(field.object({"name", "metres", "seconds", "notes"}));
}

routing::roads::Instruction read_instruction(const Field& field) {
    const Members members = field.object({"turn", "heading", "exit", "name", "metres", "seconds", "notes"});
    auto step = read_stretch<routing::roads::Instruction>(members);
    std::vector<std::string_view> turns;
    for (const TurnWord& turn : turn_words)
        turns.push_back(turn.word);
    if (const auto turn = members.need("turn", plan_mend))
        step.turn = static_cast<routing::roads::Turn>(read_word(*turn, turns).value_or(0));
    if (const auto heading = members.need("heading", plan_mend))
        step.heading = static_cast<routing::roads::Heading>(
            read_word(*heading, {heading_words.begin(), heading_words.end()}).value_or(0));
    if (const auto exit = members.find("exit"))
        step.exit = static_cast<int>(exit->whole(1, 99, "").value_or(1));
    return step;
}

std::vector<geo::Coordinate> needed_line(const Members& members) {
    const auto line = members.need("line", plan_mend);
    const auto text = line ? line->any_text("write \"lat,lon lat,lon ...\"") : std::nullopt;
    const auto points = text ? parse_line(*text) : std::nullopt;
    if (text && !points)
        line->fault("is no line", "write \"lat,lon lat,lon ...\" in degrees");
    return points.value_or(std::vector<geo::Coordinate>{});
}

routing::shoot::OnFoot read_on_foot(const Field& field) {
    const Members members =
        field.object({"seconds", "metres", "line", "ascent_metres", "descent_metres", "steepest_percent", "notes"});
    routing::shoot::OnFoot walk{needed_seconds(members, "seconds"), needed_metres(members, "metres"),
                                needed_line(members)};
    walk.notes = read_notes(members);
    if (members.find("ascent_metres")) {
        const auto percent = members.need("steepest_percent", plan_mend);
        walk.climb = routing::roads::foot::Climb{
            needed_metres(members, "ascent_metres"), needed_metres(members, "descent_metres"),
            percent ? percent->number(0, 10'000, "percent").value_or(0.0) / 100.0 : 0.0};
    }
    return walk;
}

/// A road with a span of time, open where an end is missing.
routing::shoot::ShutRoad read_road_span(const Field& field, const geo::TimeZone& zone) {
    const Members members = field.object({"road", "from", "until"});
    const auto end = [&](const char* key, geo::Instant otherwise) {
        return members.find(key) ? needed_instant(members, key, zone) : otherwise;
    };
    routing::shoot::ShutRoad road{
        needed_any_text(members, "road"),
        {end("from", routing::roads::timed::since_ever), end("until", routing::roads::timed::for_ever)}};
    if (road.shut.until < road.shut.from)
        field.fault("ends before it begins", "give from and until in order of time");
    return road;
}

Leg read_leg(const Field& field, const geo::TimeZone& zone) {
    const Members members =
        field.object({"seconds", "metres", "van_seconds", "walk_seconds", "walk_metres", "via", "roads", "directions",
                      "line", "walk_out", "walk_in", "shut_roads", "waits", "drive_out_seconds"});
    Leg leg;
    leg.total = needed_seconds(members, "seconds");
    leg.van = needed_seconds(members, "van_seconds");
    leg.length = needed_metres(members, "metres");
    if (const auto roads = members.need("roads", plan_mend)) {
        for (const Field& item : roads->list("roads").value_or(std::vector<Field>{}))
            leg.roads.push_back(read_road(item));
    }
    if (const auto directions = members.find("directions")) {
        for (const Field& item : directions->list("directions").value_or(std::vector<Field>{}))
            leg.directions.push_back(read_instruction(item));
    }
    leg.line = needed_line(members);
    if (const auto walk = members.find("walk_out"))
        leg.walk_out = read_on_foot(*walk);
    if (const auto walk = members.find("walk_in"))
        leg.walk_in = read_on_foot(*walk);
    if (members.find("drive_out_seconds"))
        leg.drive_out = needed_seconds(members, "drive_out_seconds");
    if (const auto roads = members.find("shut_roads"))
        for (const Field& item : roads->list("roads shut for a time").value_or(std::vector<Field>{}))
            leg.shut_roads.push_back(read_road_span(item, zone));
    if (const auto waits = members.find("waits"))
        for (const Field& item : waits->list("waits").value_or(std::vector<Field>{})) {
            const routing::shoot::ShutRoad wait = read_road_span(item, zone);
            leg.waits.push_back({wait.name, wait.shut.from, wait.shut.until});
        }
    leg.wait = leg.total - leg.van - leg.walk();
    needed_metres(members, "walk_metres");
    if (const auto walk = members.need("walk_seconds", plan_mend); walk && walk->whole(0, longest_span, "seconds"))
        if (needed_seconds(members, "walk_seconds") != leg.walk())
            walk->fault("is not the seconds of walk_out and walk_in together", plan_mend);
    return leg;
}

geo::Coordinate needed_place(const Members& members, std::string_view key) {
    const auto field = members.need(key, plan_mend);
    const auto place = field ? read_place(*field) : std::nullopt;
    return place.value_or(geo::Coordinate{});
}

void check_times(const Members& members, const PlanStop& stop) {
    const auto late = [&](geo::Instant before, geo::Instant after, const char* key, const char* than) {
        const auto field = members.find(key);
        if (after < before && field && after != geo::Instant{})
            field->fault("is before the stop's " + std::string(than),
                         "put arrive, start, end and leave in order of time");
    };
    late(stop.arrive, stop.start, "start", "arrive");
    late(stop.start, stop.end, "end", "start");
    late(stop.end, stop.leave, "leave", "end");
}

} // namespace

std::optional<std::size_t> read_word(const Field& field, std::span<const std::string_view> words) {
    const auto text = field.text("write one of the known words");
    if (!text)
        return std::nullopt;
    const auto found = std::find(words.begin(), words.end(), *text);
    if (found == words.end()) {
        const std::vector<std::string> known(words.begin(), words.end());
        field.fault("is no word known here", offer_names(*text, known, "word"));
        return std::nullopt;
    }
    return static_cast<std::size_t>(found - words.begin());
}

std::string needed_text(const Members& members, std::string_view key) {
    const auto field = members.need(key, plan_mend);
    return field ? field->text("write a text").value_or("") : "";
}

std::string needed_any_text(const Members& members, std::string_view key) {
    const auto field = members.need(key, plan_mend);
    return field ? field->any_text("write a text").value_or("") : "";
}

bool needed_flag(const Members& members, std::string_view key) {
    const auto field = members.need(key, plan_mend);
    return field && field->flag().value_or(false);
}

geo::Instant needed_instant(const Members& members, std::string_view key, const geo::TimeZone& zone) {
    const auto field = members.need(key, plan_mend);
    return field ? read_instant(*field, zone).value_or(geo::Instant{}) : geo::Instant{};
}

geo::Seconds needed_seconds(const Members& members, std::string_view key) {
    const auto field = members.need(key, plan_mend);
    return geo::Seconds(field ? field->whole(0, longest_span, "seconds").value_or(0) : 0);
}

geo::Metres needed_metres(const Members& members, std::string_view key) {
    const auto field = members.need(key, plan_mend);
    return {field ? field->number(0, 1e8, "metres").value_or(0.0) : 0.0};
}

PlanStop read_plan_stop(const Field& field, const geo::TimeZone& zone) {
    const Members members = field.object({"kind",    "id",     "name",   "what",  "role",  "at",       "van_at",
                                          "parking", "arrive", "start",  "end",   "leave", "leave_by", "slack_seconds",
                                          "must",    "done",   "option", "light", "leg",   "notes",    "running"});
    PlanStop stop;
    if (const auto kind = members.need("kind", plan_mend)) {
        if (const auto word = read_word(*kind, stop_kind_words))
            stop.kind = static_cast<PlanStopKind>(*word);
    }
    stop.id = needed_any_text(members, "id");
    stop.name = needed_any_text(members, "name");
    stop.what = needed_any_text(members, "what");
    if (const auto role = members.need("role", plan_mend)) {
        if (const auto word = read_word(*role, stop_role_words))
            stop.role = static_cast<routing::shoot::StopRole>(*word);
    }
    stop.at = needed_place(members, "at");
    stop.van_at = needed_place(members, "van_at");
    if (const auto parking = members.find("parking"))
        stop.parking = parking->any_text("write a text").value_or("");
    stop.arrive = needed_instant(members, "arrive", zone);
    stop.start = needed_instant(members, "start", zone);
    stop.end = needed_instant(members, "end", zone);
    stop.leave = needed_instant(members, "leave", zone);
    stop.leave_by = needed_instant(members, "leave_by", zone);
    check_times(members, stop);
    if (const auto slack = members.need("slack_seconds", plan_mend))
        stop.slack = geo::Seconds(slack->whole(-longest_span, longest_span, "seconds").value_or(0));
    stop.must = needed_flag(members, "must");
    stop.done = needed_flag(members, "done");
    stop.running = members.find("running") && needed_flag(members, "running");
    if (const auto option = members.need("option", plan_mend))
        stop.option = static_cast<std::uint32_t>(option->whole(0, 1000, "").value_or(0));
    if (const auto light = members.find("light"))
        stop.light = read_stop_light(*light, zone);
    if (const auto leg = members.find("leg"))
        stop.leg = read_leg(*leg, zone);
    if (const auto notes = members.find("notes")) {
        for (const Field& item : notes->list("notes").value_or(std::vector<Field>{}))
            stop.notes.push_back(item.any_text("write a text").value_or(""));
    }
    return stop;
}

} // namespace cli
