#include "cli/write_route.hpp"

#include "cli/plan_words.hpp"
#include "geo/geojson.hpp"
#include "geo/json_text.hpp"

#include <nlohmann/json.hpp>

#include <cmath>

namespace cli {

using Json = nlohmann::ordered_json;
using routing::shoot::Plan;
using routing::shoot::PlanDay;
using routing::shoot::PlanStop;
using routing::shoot::Shoot;

namespace {

double rounded(double number, double steps) {
    const double nearest = std::round(number * steps) / steps;
    return nearest == 0.0 ? 0.0 : nearest; // no "-0.0"
}

Json feature(Json geometry, Json properties) {
    return {{"type", "Feature"}, {"geometry", std::move(geometry)}, {"properties", std::move(properties)}};
}

Json light_json(const routing::shoot::StopLight& light, const geo::TimeZone& zone) {
    return {{"name", light.name},
            {"from", geo::iso_text(light.window.from, zone)},
            {"until", geo::iso_text(light.window.until, zone)},
            {"sun_altitude", {rounded(light.altitude_start.value, 100), rounded(light.altitude_end.value, 100)}},
            {"sun_azimuth", {rounded(light.azimuth_start.value, 100), rounded(light.azimuth_end.value, 100)}}};
}

Json stop_feature(const PlanDay& day, const PlanStop& stop, const geo::TimeZone& zone) {
    Json properties{{"kind", stop_kind_words[static_cast<std::size_t>(stop.kind)]},
                    {"id", stop.id},
                    {"name", stop.name},
                    {"what", stop.what},
                    {"day", geo::to_string(day.date)},
                    {"arrive", geo::iso_text(stop.arrive, zone)},
                    {"start", geo::iso_text(stop.start, zone)},
                    {"end", geo::iso_text(stop.end, zone)},
                    {"leave", geo::iso_text(stop.leave, zone)},
                    {"leave_by", geo::iso_text(stop.leave_by, zone)},
                    {"slack_seconds", stop.slack.count()},
                    {"done", stop.done}};
    if (stop.light)
        properties["light"] = light_json(*stop.light, zone);
    return feature(geo::geojson::point(stop.at), std::move(properties));
}

Json leg_feature(const PlanDay& day, const PlanStop& from, const PlanStop& to, const geo::TimeZone& zone) {
    const auto& leg = to.leg;
    Json roads = Json::array();
    for (const auto& road : leg.roads)
        roads.push_back({{"name", road.name}, {"metres", rounded(road.length.value, 10)}});
    return feature(geo::geojson::line(leg.line), {{"kind", "leg"},
                                                  {"day", geo::to_string(day.date)},
                                                  {"from", from.name},
                                                  {"to", to.name},
                                                  {"depart", geo::iso_text(from.leave, zone)},
                                                  {"arrive", geo::iso_text(to.arrive, zone)},
                                                  {"seconds", leg.total.count()},
                                                  {"van_seconds", leg.van.count()},
                                                  {"walk_seconds", leg.walk().count()},
                                                  {"metres", rounded(leg.length.value, 10)},
                                                  {"roads", roads}});
}

Json walk_feature(const PlanDay& day, const routing::shoot::OnFoot& walk, const PlanStop& stop, const char* way) {
    return feature(geo::geojson::line(walk.line), {{"kind", "walk"},
                                                   {"day", geo::to_string(day.date)},
                                                   {"way", way},
                                                   {"at", stop.name},
                                                   {"seconds", walk.time.count()},
                                                   {"metres", rounded(walk.length.value, 10)}});
}

/// A leg to draw: something was driven.
bool is_driven(const routing::shoot::Leg& leg) {
    return leg.length.value > 0.0 && leg.line.size() >= 2;
}

} // namespace

std::string write_route(const Plan& plan, const Shoot& shoot) {
    Json features = Json::array();
    std::vector<geo::Coordinate> all_points;
    for (const PlanDay& day : plan.days) {
        for (std::size_t n = 0; n < day.stops.size(); ++n) {
            const PlanStop& stop = day.stops[n];
            const auto add_walk = [&](const routing::shoot::OnFoot& walk, const PlanStop& at, const char* way) {
                if (walk.line.size() < 2)
                    return;
                features.push_back(walk_feature(day, walk, at, way));
                all_points.insert(all_points.end(), walk.line.begin(), walk.line.end());
            };
            if (n > 0)
                add_walk(stop.leg.walk_out, day.stops[n - 1], "out");
            if (n > 0 && is_driven(stop.leg)) {
                features.push_back(leg_feature(day, day.stops[n - 1], stop, shoot.zone));
                all_points.insert(all_points.end(), stop.leg.line.begin(), stop.leg.line.end());
            }
            if (n > 0)
                add_walk(stop.leg.walk_in, stop, "in");
            features.push_back(stop_feature(day, stop, shoot.zone));
            all_points.push_back(stop.at);
        }
    }
    Json collection{{"type", "FeatureCollection"}};
    if (!all_points.empty())
        collection["bbox"] = geo::geojson::bounding_box(all_points);
    collection["features"] = std::move(features);
    return geo::json_text(collection);
}

} // namespace cli
