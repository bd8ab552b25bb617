#pragma once
/// A hand-made plan of two days with every kind of stop, for the writers.

#include "geo/local_time.hpp"
#include "routing/shoot/plan.hpp"

#include <string>

namespace fixture {

inline geo::TimeZone azores() {
    return *geo::find_time_zone("Atlantic/Azores");
}

/// "2027-05-14T04:58", local to the Azores.
inline geo::Instant at(const std::string& text) {
    return *geo::parse_instant(text, azores());
}

inline routing::shoot::Shoot made_shoot() {
    routing::shoot::Shoot shoot{.title = "Salt | Iron",
                                .zone_name = "Atlantic/Azores",
                                .zone = azores(),
                                .file = "shoot.json",
                                .regions = {"map.osm.pbf"},
                                .crew = {},
                                .base = {},
                                .days = {},
                                .locations = {},
                                .scenes = {},
                                .meals = {},
                                .lodging = {},
                                .closures = {},
                                .warnings = {}};
    using namespace std::chrono_literals;
    shoot.days = {{*geo::parse_date("2027-05-14"), 4h, 23h, {}, {}}, {*geo::parse_date("2027-05-15"), 9h, 23h, {}, {}}};
    routing::shoot::Location arch;
    arch.id = "arch";
    shoot.locations.push_back(arch);
    routing::shoot::SceneOption option;
    option.light = {geo::LightName::any};
    for (const char* id : {"opening", "wheel", "boats"}) {
        routing::shoot::Scene scene;
        scene.id = id;
        scene.options = {option};
        shoot.scenes.push_back(scene);
    }
    return shoot;
}

inline routing::shoot::PlanStop made_stop(routing::shoot::PlanStopKind kind, const std::string& id,
                                          const std::string& name, const std::string& what, const std::string& arrive,
                                          const std::string& leave) {
    routing::shoot::PlanStop stop;
    stop.kind = kind;
    stop.id = id;
    stop.name = name;
    stop.what = what;
    stop.at = {{-35.2}, {-8.4}};
    stop.van_at = {{-35.2005}, {-8.4005}};
    stop.arrive = stop.start = at(arrive);
    stop.end = stop.leave = stop.leave_by = at(leave);
    return stop;
}

inline routing::shoot::Leg made_leg() {
    using namespace std::chrono_literals;
    routing::shoot::Leg leg;
    leg.total = 46min;
    leg.van = 40min;
    leg.length = {31240.0};
    leg.walk_out = {2min, {100.0}, {}};
    leg.walk_in = {4min, {300.0}, {{{-35.2005}, {-8.4005}}, {{-35.201}, {-8.401}}}};
    leg.roads = {{"Ring Road (A1)", {12000.0}, 900'000, routing::roads::note_toll},
                 {"", {19200.0}, 1'499'250, routing::roads::note_gate | routing::roads::note_ford},
                 {"Lane", {40.0}, 750, 0}};
    using routing::roads::Heading;
    using routing::roads::Turn;
    leg.directions = {
        {Turn::set_off, Heading::north_east, "Ring Road (A1)", {12000.0}, 900'000, routing::roads::note_toll},
        {Turn::sharp_left,
         Heading::west,
         "",
         {19200.0},
         1'499'250,
         routing::roads::note_gate | routing::roads::note_ford},
        {Turn::roundabout, Heading::west, "Lane", {40.0}, 750, 0, 2}};
    leg.line = {{{-35.2}, {-8.4}}, {{-35.215001}, {-8.41}}, {{-35.21}, {-8.4123456}}};
    return leg;
}

inline routing::shoot::Plan made_plan() {
    using namespace std::chrono_literals;
    using routing::shoot::PlanStopKind;
    routing::shoot::Plan plan;
    plan.worth = 40;
    plan.worth_bound = 40;
    plan.labels = 1234;

    routing::shoot::PlanDay first;
    first.date = *geo::parse_date("2027-05-14");
    first.stops.push_back(
        made_stop(PlanStopKind::base, "base", "Net loft", "call", "2027-05-14T04:00", "2027-05-14T04:12"));
    first.stops.back().leave_by = at("2027-05-14T04:20:50");
    first.stops.back().slack = 530s;
    auto scene = made_stop(PlanStopKind::scene, "opening", "Arch `of` | <Tears>", "Opening", "2027-05-14T04:58",
                           "2027-05-14T06:00");
    scene.at = {{-35.21}, {-8.4123456}};
    scene.start = at("2027-05-14T05:08:20");
    scene.end = at("2027-05-14T05:53:20");
    scene.leave_by = at("2027-05-14T07:04:59");
    scene.slack = 3899s;
    scene.must = true;
    scene.option = 0;
    scene.light = routing::shoot::StopLight{
        "golden-morning", {at("2027-05-14T05:01:10"), at("2027-05-14T05:58:40")}, {-3.456}, {5.2}, {61.2}, {54.8}};
    scene.notes = {"permit: harbour office", "gear: long lens"};
    scene.leg = made_leg();
    first.stops.push_back(scene);
    auto meal = made_stop(PlanStopKind::meal, "node/12", "Café Grau", "lunch", "2027-05-14T12:00", "2027-05-14T12:45");
    meal.leg = made_leg();
    meal.notes = {"hours not checked"};
    first.stops.push_back(meal);
    auto bed = made_stop(PlanStopKind::bed, "way/7", "Hotel_1", "wrap", "2027-05-15T00:30", "2027-05-15T00:30");
    bed.leg = made_leg();
    bed.slack = 30min;
    first.stops.push_back(bed);
    first.call = at("2027-05-14T04:12");
    first.wrap = at("2027-05-15T00:30");
    first.drive = 2h;
    first.walk = 18min;
    first.distance = {93720.0};
    plan.days.push_back(first);

    routing::shoot::PlanDay second;
    second.date = *geo::parse_date("2027-05-15");
    second.stops.push_back(
        made_stop(PlanStopKind::bed, "way/7", "Hotel_1", "call", "2027-05-15T10:00", "2027-05-15T10:00"));
    auto wish = made_stop(PlanStopKind::scene, "wheel", "Mühle", "Wheel", "2027-05-15T10:00", "2027-05-15T11:00");
    wish.done = true;
    second.stops.push_back(wish);
    second.call = at("2027-05-15T10:00");
    second.wrap = at("2027-05-15T11:00");
    plan.days.push_back(second);

    plan.dropped.push_back({"boats", "Boats", false, "no window: 12 min too late"});
    plan.warnings = {"vehicle height not given"};
    plan.closures = {
        {routing::roads::RoadNamed{"Pass Road", geo::Coordinate{{-35.2}, {-8.4}}}, "road \"Pass Road\""},
        {routing::roads::Ways{{12, -3}}, "ways 12, -3"},
        {routing::roads::Area{{{{-35.2}, {-8.4}}, {{-35.3}, {-8.4}}, {{-35.3}, {-8.5}}}}, "the old quarry"},
        {routing::roads::Circle{{{-35.2}, {-8.4}}, {50.0}}, "50 m around the pier"},
        {routing::roads::Line{{{{-35.2}, {179.9}}, {{-35.3}, {-179.9}}}}, "the causeway"}};
    plan.closures[0].from = at("2027-05-14T10:00");
    plan.closures[0].until = at("2027-05-14T15:30");
    plan.closures[1].until = at("2027-05-15T09:00");
    plan.closures[1].foot = true;
    plan.closures[3].foot = true;
    plan.closures[3].van = false;
    plan.dropped_by_crew = {"boats"};
    plan.scenes_done = {"wheel"};
    plan.told_sky = routing::shoot::ToldSky{"overcast", *geo::parse_date("2027-05-14")};
    return plan;
}

} // namespace fixture
