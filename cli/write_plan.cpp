#include "cli/write_plan.hpp"

#include "cli/plan_words.hpp"
#include "geo/json_text.hpp"
#include "routing/roads/timed/shut_times.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>

namespace cli {

using Json = nlohmann::ordered_json;
using routing::shoot::Leg;
using routing::shoot::Plan;
using routing::shoot::PlanDay;
using routing::shoot::PlanStop;
using routing::shoot::Shoot;

namespace {

/// Rounded so that the last bits of a machine's mathematics library don't show.
double rounded(double number, double steps) {
    const double nearest = std::round(number * steps) / steps;
    return nearest == 0.0 ? 0.0 : nearest; // no "-0.0"
}

Json place_json(geo::Coordinate place) {
    return {{"lat", rounded(place.latitude.value, 1e7)}, {"lon", rounded(place.longitude.value, 1e7)}};
}

/// Share of filming that lies inside the light window.
double quality_of(const PlanStop& stop) {
    const geo::Seconds filming = stop.end - stop.start;
    const geo::Seconds inside =
        std::min(stop.end, stop.light->window.until) - std::max(stop.start, stop.light->window.from);
    if (filming.count() <= 0)
        return inside.count() >= 0 ? 1.0 : 0.0;
    return rounded(std::max(0.0, static_cast<double>(inside.count()) / static_cast<double>(filming.count())), 100.0);
}

Json light_json(const PlanStop& stop, const geo::TimeZone& zone) {
    const auto& light = *stop.light;
    return {{"name", light.name},
            {"from", geo::iso_text(light.window.from, zone)},
            {"until", geo::iso_text(light.window.until, zone)},
            {"quality", quality_of(stop)},
            {"sun_altitude", {rounded(light.altitude_start.value, 100), rounded(light.altitude_end.value, 100)}},
            {"sun_azimuth", {rounded(light.azimuth_start.value, 100), rounded(light.azimuth_end.value, 100)}}};
}

Json notes_json(std::uint16_t bits) {
    Json notes = Json::array();
    for (const RoadNoteWord& word : road_note_words) {
        if ((bits & word.note) != 0)
            notes.push_back(word.word);
    }
    return notes;
}

/// A stretch of road, with or without a turn at its beginning.
template <class Stretch>
Json road_json(const Stretch& road) {
    return {{"name", road.name},
            {"metres", rounded(road.length.value, 10)},
            {"seconds", static_cast<double>(road.time) / 1000.0},
            {"notes", notes_json(road.notes)}};
}

Json instruction_json(const routing::roads::Instruction& step) {
    Json json = road_json(step);
    json["turn"] = turn_words[static_cast<std::size_t>(step.turn)].word;
    json["heading"] = heading_words[static_cast<std::size_t>(step.heading)];
    if (step.exit > 0)
        json["exit"] = step.exit;
    return json;
}

Json walk_json(const routing::shoot::OnFoot& walk) {
    Json json{
        {"seconds", walk.time.count()}, {"metres", rounded(walk.length.value, 10)}, {"line", line_text(walk.line)}};
    if (walk.notes != 0)
        json["notes"] = notes_json(walk.notes);
    if (walk.climb) {
        json["ascent_metres"] = rounded(walk.climb->up.value, 10);
        json["descent_metres"] = rounded(walk.climb->down.value, 10);
        json["steepest_percent"] = rounded(100.0 * walk.climb->steepest, 10);
    }
    return json;
}

/// A road with a span of time.
Json road_span_json(const std::string& road, geo::Instant from, geo::Instant until, const geo::TimeZone& zone) {
    Json json{{"road", road}};
    if (from > routing::roads::timed::since_ever)
        json["from"] = geo::iso_text(from, zone);
    if (until < routing::roads::timed::for_ever)
        json["until"] = geo::iso_text(until, zone);
    return json;
}

Json leg_json(const Leg& leg, const geo::TimeZone& zone) {
    Json via = Json::array(), roads = Json::array(), directions = Json::array();
    for (const auto& road : leg.roads) {
        if (!road.name.empty() && std::find(via.begin(), via.end(), road.name) == via.end())
            via.push_back(road.name);
        roads.push_back(road_json(road));
    }
    for (const auto& step : leg.directions)
        directions.push_back(instruction_json(step));
    Json json{{"seconds", leg.total.count()},
              {"metres", rounded(leg.length.value, 10)},
              {"van_seconds", leg.van.count()},
              {"walk_seconds", leg.walk().count()},
              {"walk_metres", rounded(leg.walk_length().value, 10)},
              {"via", via},
              {"roads", roads},
              {"directions", directions},
              {"line", line_text(leg.line)}};
    if (leg.walk_out.time.count() > 0)
        json["walk_out"] = walk_json(leg.walk_out);
    if (leg.walk_in.time.count() > 0)
        json["walk_in"] = walk_json(leg.walk_in);
    if (leg.drive_out.count() > 0)
        json["drive_out_seconds"] = leg.drive_out.count();
    for (const auto& road : leg.shut_roads)
        json["shut_roads"].push_back(road_span_json(road.name, road.shut.from, road.shut.until, zone));
    for (const auto& wait : leg.waits)
        json["waits"].push_back(road_span_json(wait.road, wait.from, wait.until, zone));
    return json;
}

bool has_leg(const Leg& leg) {
    return leg.total.count() != 0 || !leg.line.empty() || !leg.roads.empty();
}

Json stop_json(const PlanStop& stop, const geo::TimeZone& zone) {
    Json json{{"kind", stop_kind_words[static_cast<std::size_t>(stop.kind)]},
              {"id", stop.id},
              {"name", stop.name},
              {"what", stop.what},
              {"role", stop_role_words[static_cast<std::size_t>(stop.role)]},
              {"at", place_json(stop.at)},
              {"van_at", place_json(stop.van_at)},
              {"arrive", geo::iso_text(stop.arrive, zone)},
              {"start", geo::iso_text(stop.start, zone)},
              {"end", geo::iso_text(stop.end, zone)},
              {"leave", geo::iso_text(stop.leave, zone)},
              {"leave_by", geo::iso_text(stop.leave_by, zone)},
              {"slack_seconds", stop.slack.count()},
              {"must", stop.must},
              {"done", stop.done},
              {"option", stop.option}};
    if (stop.running)
        json["running"] = true;
    if (!stop.parking.empty())
        json["parking"] = stop.parking;
    if (stop.light)
        json["light"] = light_json(stop, zone);
    if (has_leg(stop.leg))
        json["leg"] = leg_json(stop.leg, zone);
    json["notes"] = stop.notes;
    return json;
}

Json day_json(const PlanDay& day, const geo::TimeZone& zone) {
    Json stops = Json::array();
    for (const PlanStop& stop : day.stops)
        stops.push_back(stop_json(stop, zone));
    return {{"date", geo::to_string(day.date)},
            {"call", geo::iso_text(day.call, zone)},
            {"wrap", geo::iso_text(day.wrap, zone)},
            {"drive_seconds", day.drive.count()},
            {"walk_seconds", day.walk.count()},
            {"metres", rounded(day.distance.value, 10)},
            {"stops", stops}};
}

Json places_json(const std::vector<geo::Coordinate>& places) {
    Json list = Json::array();
    for (const geo::Coordinate& place : places)
        list.push_back(place_json(place));
    return list;
}

struct ClosureJson {
    Json operator()(const routing::roads::RoadNamed& road) const {
        Json json{{"road", road.name}};
        if (road.near)
            json["near"] = place_json(*road.near);
        return json;
    }
    Json operator()(const routing::roads::Ways& ways) const { return {{"ways", ways.ids}}; }
    Json operator()(const routing::roads::Line& line) const { return {{"line", places_json(line.points)}}; }
    Json operator()(const routing::roads::Area& area) const { return {{"area", places_json(area.ring)}}; }
    Json operator()(const routing::roads::Circle& circle) const {
        return {{"point", place_json(circle.centre)}, {"radius_m", circle.radius.value}};
    }
};

Json closure_json(const routing::roads::Closure& closure, const geo::TimeZone& zone) {
    Json json = std::visit(ClosureJson{}, closure.where);
    json["label"] = closure.label;
    if (closure.foot)
        json["for"] = closure.van ? Json{"van", "foot"} : Json{"foot"};
    if (closure.from)
        json["from"] = geo::iso_text(*closure.from, zone);
    if (closure.until)
        json["until"] = geo::iso_text(*closure.until, zone);
    return json;
}

Json ward_json(const routing::shoot::NearestWard& ward) {
    if (!ward.known)
        return {{"from", ward.from}};
    return {{"from", ward.from},
            {"id", ward.id},
            {"name", ward.name},
            {"phone", ward.phone},
            {"at", place_json(ward.at)},
            {"drive_seconds", ward.drive.count()},
            {"metres", rounded(ward.length.value, 10)}};
}

Json proof_json(const Plan& plan) {
    return {{"proven", plan.proven},     {"worth", plan.worth},
            {"bound", plan.worth_bound}, {"gap", plan.worth_bound - plan.worth},
            {"text", plan.bound_text},   {"labels", plan.labels},
            {"seconds", nullptr}}; // the clock differs from run to run; labels count the same work
}

} // namespace

std::string write_plan(const Plan& plan, const Shoot& shoot, const PlanSource& source) {
    Json days = Json::array(), dropped = Json::array(), closures = Json::array(), wards = Json::array();
    for (const PlanDay& day : plan.days)
        days.push_back(day_json(day, shoot.zone));
    for (const auto& scene : plan.dropped)
        dropped.push_back({{"scene", scene.scene}, {"title", scene.title}, {"must", scene.must}, {"why", scene.why}});
    for (const auto& closure : plan.closures)
        closures.push_back(closure_json(closure, shoot.zone));
    for (const auto& ward : plan.wards)
        wards.push_back(ward_json(ward));
    Json json{{"dayweave", source.version},
              {"title", shoot.title},
              {"time_zone", shoot.zone_name},
              {"zone_database", source.zone_database},
              {"shoot", source.shoot_file},
              {"map_date", source.map_date},
              {"result", result_words[static_cast<std::size_t>(plan.result)]},
              {"proof", proof_json(plan)},
              {"days", days},
              {"dropped", dropped},
              {"dropped_by_crew", plan.dropped_by_crew},
              {"scenes_done", plan.scenes_done},
              {"closures", closures},
              {"warnings", plan.warnings},
              {"emergency_wards", wards},
              {"attribution", attribution}};
    if (plan.told_sky) {
        json["told_sky"] = {{"sky", plan.told_sky->sky}};
        if (plan.told_sky->on)
            json["told_sky"]["on"] = geo::to_string(*plan.told_sky->on);
    }
    return geo::json_text(json);
}

} // namespace cli
