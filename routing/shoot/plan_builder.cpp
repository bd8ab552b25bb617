#include "routing/shoot/plan_builder.hpp"

#include "routing/roads/hierarchy/travel_table.hpp"
#include "routing/shoot/meal_places.hpp"
#include "routing/shoot/nearby_places.hpp"
#include "routing/shoot/night_walks.hpp"
#include "routing/shoot/scene_light.hpp"
#include "routing/shoot/site_hours.hpp"
#include "routing/shoot/sky_kinds.hpp"

#include <algorithm>
#include <cassert>
#include <utility>

namespace routing::shoot {

namespace {

void describe_place(PlanStop& stop, const places::Place& place) {
    stop.id = place_id(place);
    stop.name = place.name;
    stop.at = place.at;
    if (stop.kind == PlanStopKind::bed)
        stop.notes.push_back("book first: the map does not tell free rooms");
    if (!place.phone.empty())
        stop.notes.push_back("phone on the map: " + place.phone);
}

/// Names a stop that is no scene by the point it stands on.
void describe_point(PlanStop& stop, const SolvedShoot& solved, order::Point point) {
    const Shoot& shoot = solved.shoot;
    stop.at = solved.points.points[point].at;
    if (const auto place = solved.points.place_at(point)) {
        describe_place(stop, solved.region.places[*place]);
        return;
    }
    if (solved.points.base == point && stop.kind == PlanStopKind::base) {
        stop.id = "base";
        stop.name = shoot.base->name;
    } else if (solved.points.fixed_bed == point && stop.kind == PlanStopKind::bed) {
        stop.id = "lodging";
        stop.name = shoot.lodging->fixed.name;
    } else {
        for (std::size_t n = 0; n < solved.points.locations.size() && stop.name.empty(); ++n) {
            if (solved.points.is_at(point, n)) {
                stop.id = shoot.locations[n].id;
                stop.name = shoot.locations[n].name;
            }
        }
        if (stop.name.empty()) {
            stop.id = "here";
            stop.name = "where the crew is";
        }
    }
}

void describe_scene(PlanStop& stop, const SolvedShoot& solved, const order::Stop& timed) {
    const std::uint32_t number = solved.order.scene_of_visit[timed.index];
    const Scene& scene = solved.shoot.scenes[number];
    stop.option = solved.order.option_of_visit[timed.index][timed.option];
    const SceneOption& option = scene.options[stop.option];
    const Location& location = solved.shoot.locations[option.location];
    stop.kind = PlanStopKind::scene;
    stop.id = scene.id;
    stop.name = location.name;
    stop.what = scene.title;
    stop.at = location.at;
    stop.must = scene.must;
    stop.light =
        light_of(solved.shoot, option, solved.shoot.days[solved.order.day_of[timed.day]], timed.start, timed.end);
    if (const std::string note = ground_note(solved.shoot, option, timed.start, timed.end); !note.empty())
        stop.notes.push_back(note);
    if (!option.sky.empty())
        stop.notes.push_back("suits sky: " + sky_text(option) +
                             (told_sky(solved.shoot, solved.shoot.days[solved.order.day_of[timed.day]].date) != nullptr
                                  ? ""
                                  : " (the weather is not known here: see plan --sky)"));
    if (const std::string hours =
            site_hours_note(solved.shoot, location, {timed.start - location.setup, timed.end + location.pack});
        !hours.empty())
        stop.notes.push_back(hours);
    if (!location.permit.empty())
        stop.notes.push_back("permit: " + location.permit);
    if (!location.notes.empty())
        stop.notes.push_back(location.notes);
    for (const Shot& shot : scene.shots)
        stop.notes.push_back(std::string(shot.must ? "must-have shot: " : "shot: ") + shot.title +
                             (shot.length.count() > 0 ? " (" + std::to_string(shot.length.count()) + " min)" : ""));
    if (!scene.gear.empty()) {
        std::string gear = "gear: ";
        for (const std::string& item : scene.gear)
            gear += (&item == &scene.gear.front() ? "" : ", ") + item;
        stop.notes.push_back(gear);
    }
}

void describe_meal(PlanStop& stop, const SolvedShoot& solved, const order::Stop& timed) {
    const MealWish& wish = solved.shoot.meals[solved.order.meal_of[timed.day][timed.index]];
    stop.kind = PlanStopKind::meal;
    stop.what = wish.name;
    switch (wish.where) {
    case MealWhere::fixed:
        stop.id = wish.name;
        stop.name = wish.fixed.name;
        stop.at = wish.fixed.at;
        stop.notes.push_back("hours not checked");
        break;
    case MealWhere::packed:
        describe_point(stop, solved, timed.point);
        stop.notes.push_back("carry food: eaten where the crew is");
        break;
    case MealWhere::find:
        if (const auto number = solved.points.place_at(timed.point)) {
            const places::Place& place = solved.region.places[*number];
            stop.notes.push_back(hours_note(place, {timed.start, timed.end}, site_at(place.at, solved.shoot)));
        }
        describe_point(stop, solved, timed.point);
        break;
    }
}

PlanStop build_stop(const SolvedShoot& solved, const order::Stop& timed) {
    PlanStop stop;
    switch (timed.kind) {
    case order::StopKind::visit:
        describe_scene(stop, solved, timed);
        break;
    case order::StopKind::meal:
        describe_meal(stop, solved, timed);
        break;
    case order::StopKind::start:
    case order::StopKind::end: {
        const ShootDay& day = solved.shoot.days[solved.order.day_of[timed.day]];
        const DayEdge edge = timed.kind == order::StopKind::start ? day.start : day.end;
        stop.kind = solved.points.base == timed.point && edge == DayEdge::base ? PlanStopKind::base
                    : edge == DayEdge::bed                                     ? PlanStopKind::bed
                                                                               : PlanStopKind::rest;
        describe_point(stop, solved, timed.point);
        stop.role = timed.kind == order::StopKind::start ? StopRole::call : StopRole::wrap;
        stop.what = stop.role == StopRole::call ? "call" : "wrap";
        if (timed.kind == order::StopKind::start)
            stop.notes.clear();
        break;
    }
    }
    stop.van_at = solved.points.points[timed.point].road.at;
    stop.parking = solved.points.points[timed.point].car_park;
    stop.arrive = timed.arrive;
    stop.start = timed.start;
    stop.end = timed.end;
    stop.leave = timed.leave;
    stop.leave_by = timed.leave_by;
    stop.slack = timed.slack;
    return stop;
}

/// The van's way; under closures in force for a time, for who sets off at `departure`.
roads::Path van_way(Leg& leg, const SolvedShoot& solved, roads::hierarchy::TravelTable& paths, order::Point from,
                    order::Point to, Instant departure) {
    const StopPoints& points = solved.points;
    if (!solved.timed.any()) {
        const auto path = paths.quickest_path(points.sets_off_at(from), points.points[to].road);
        assert(path && "the travel matrix said there is a way");
        return *path;
    }
    const roads::timed::TimedPath way = solved.timed.way(from, to, departure);
    leg.shut_roads = solved.timed.shut_roads(way, departure);
    const roads::RoadNetwork& network = *solved.region.network;
    for (const roads::timed::Wait& wait : way.waits) {
        if (wait.until - wait.from < std::chrono::seconds{1})
            continue; // departures are whole seconds
        const roads::EdgeIndex edge =
            wait.piece < way.pieces.size() ? way.pieces[wait.piece].edge : points.points[to].road.edge;
        leg.waits.push_back({network.name_of(network.edges[roads::value(edge)]), std::chrono::floor<Seconds>(wait.from),
                             std::chrono::ceil<Seconds>(wait.until)});
        leg.wait += leg.waits.back().until - leg.waits.back().from;
    }
    return {way.time, way.length, way.pieces};
}

template <class Item>
void append(std::vector<Item>& list, const std::vector<Item>& more) {
    list.insert(list.end(), more.begin(), more.end());
}

/// Length, roads, directions and line of a piece of the van's way.
void add_road(Leg& leg, const roads::RoadNetwork& network, const roads::Path& path) {
    leg.length += path.length;
    append(leg.roads, roads::road_stretches(network, path));
    append(leg.directions, roads::directions(network, path));
    append(leg.line, roads::path_line(network, path));
}

/// The move between two points, with roads and line, for who leaves the first at `departure`.
Leg build_leg(const SolvedShoot& solved, roads::hierarchy::TravelTable& paths, order::Point from, order::Point to,
              Instant departure) {
    Leg leg;
    leg.walk_out = solved.points.points[from].walk;
    leg.walk_out.time = solved.points.points[from].walk_back;
    std::reverse(leg.walk_out.line.begin(), leg.walk_out.line.end());
    if (leg.walk_out.climb)
        leg.walk_out.climb = leg.walk_out.climb->reversed();
    leg.walk_in = solved.points.points[to].walk;
    const roads::Path path = van_way(leg, solved, paths, from, to, departure + solved.points.before_setting_off(from));
    const Seconds on_the_road = whole_seconds(path.time);
    leg.wait = std::min(leg.wait, on_the_road);
    leg.van = on_the_road - leg.wait;
    const roads::RoadNetwork& network = *solved.region.network;
    if (solved.points.drives_out_from(from)) {
        add_road(leg, network, solved.points.way_out->path);
        leg.drive_out = whole_seconds(solved.points.way_out->path.time);
        leg.van += leg.drive_out;
    }
    add_road(leg, network, path);
    leg.total = leg.van + leg.wait + leg.walk();
    return leg;
}

/// What a crew should know of a walk that begins or ends in darkness; empty in daylight and for a few steps.
std::string darkness_note(const OnFoot& walk, geo::Coordinate at, Instant from, const std::string& which) {
    if (more_in_the_dark(walk.time) == Seconds{0} || !(is_dark(at, from) || is_dark(at, from + walk.time)))
        return "";
    return "the walk " + which + " is in darkness, reckoned slower: carry lights" +
           ((walk.notes & roads::note_not_in_darkness) != 0
                ? ", and do not walk it unless you know it by day: the map calls its path hard to see"
                : ", look at the way by day");
}

void add_darkness(PlanStop& stop, const PlanStop& before, Instant leave) {
    for (const std::string& note :
         {darkness_note(stop.leg.walk_out, before.at, leave, "back to the van before it"),
          darkness_note(stop.leg.walk_in, stop.at, leave + stop.leg.total - stop.leg.walk_in.time, "in")})
        if (!note.empty())
            stop.notes.push_back(note);
}

bool is_eaten_off_duty(const SolvedShoot& solved, std::uint32_t day, std::uint32_t meal) {
    const auto& missed = solved.solution.missed_meals;
    if (std::find(missed.begin(), missed.end(), std::pair{day, meal}) != missed.end())
        return false;
    bool works = false;
    for (const order::Stop& stop : solved.solution.stops) {
        if (stop.day != day)
            continue;
        works = works || stop.kind == order::StopKind::visit;
        if (stop.kind == order::StopKind::meal && stop.index == meal)
            return false;
    }
    return works;
}

} // namespace

void add_totals(PlanDay& day) {
    if (day.stops.empty())
        return;
    day.call = day.stops.front().leave;
    day.wrap = day.stops.back().arrive;
    for (const PlanStop& stop : day.stops) {
        day.drive += stop.leg.van;
        day.walk += stop.leg.walk();
        day.distance += stop.leg.length;
    }
}

/// Of what the order holds as set-up and packing, gives the legs what they take longer in the dark.
void slow_in_the_dark(PlanStop& stop, PlanStop& before, const SolvedShoot& solved, const order::Stop& timed,
                      const order::Stop& timed_before) {
    const auto dark_walks = [&](const order::Stop& visit) {
        return visit.kind == order::StopKind::visit ? solved.order.dark_walks_of_visit[visit.index][visit.option]
                                                    : DarkWalks{};
    };
    if (const Seconds more = dark_walks(timed_before).more_out; more > Seconds{0}) {
        before.leave -= more;
        before.leave_by -= more;
        stop.leg.walk_out.time += more;
        stop.leg.total += more;
    }
    const Seconds more = dark_walks(timed).more_in;
    const Instant walks_from = stop.arrive - stop.leg.walk_in.time;
    if (more > Seconds{0} && (is_dark(stop.at, walks_from) || is_dark(stop.at, stop.arrive + more))) {
        stop.leg.walk_in.time += more;
        stop.leg.total += more;
        stop.arrive += more;
    }
}

std::vector<PlanDay> build_days(const SolvedShoot& solved) {
    std::vector<PlanDay> days;
    for (const std::uint32_t number : solved.order.day_of) {
        days.emplace_back();
        days.back().date = solved.shoot.days[number].date;
    }
    roads::hierarchy::TravelTable paths(solved.roads_open);
    const order::Stop* before = nullptr;
    for (const order::Stop& timed : solved.solution.stops) {
        PlanStop stop = build_stop(solved, timed);
        const bool first_of_day = before == nullptr || before->day != timed.day;
        if (!first_of_day && before->point != timed.point) {
            stop.leg = build_leg(solved, paths, before->point, timed.point, before->leave);
            // Closures in force for a time may be reckoned longer in the order than they turn out, never shorter.
            assert(before->leave + stop.leg.total <= stop.arrive);
            if (solved.timed.any())
                stop.arrive = before->leave + stop.leg.total;
            PlanStop& left = days[timed.day].stops.back();
            slow_in_the_dark(stop, left, solved, timed, *before);
            add_darkness(stop, left, left.leave);
        }
        days[timed.day].stops.push_back(std::move(stop));
        before = &timed;
    }
    for (PlanDay& day : days)
        add_totals(day);
    return days;
}

std::vector<std::string> missed_meal_warnings(const SolvedShoot& solved) {
    std::vector<std::string> warnings;
    for (const auto& [day, meal] : solved.solution.missed_meals) {
        const MealWish& wish = solved.shoot.meals[solved.order.meal_of[day][meal]];
        const order::Meal& due = solved.order.problem.days[day].meals[meal];
        warnings.push_back(wish.name + " (" + geo::clock_text(due.within.earliest, solved.shoot.zone) + "–" +
                           geo::clock_text(due.within.latest, solved.shoot.zone) + ") on " +
                           geo::to_string(solved.shoot.days[solved.order.day_of[day]].date) +
                           (wish.where == MealWhere::find && due.candidates.empty()
                                ? " has no place on the map that is open then: carry food"
                                : " could not be fitted in: carry food"));
    }
    for (std::uint32_t day = 0; day < solved.order.day_of.size(); ++day)
        for (std::uint32_t meal = 0; meal < solved.order.meal_of[day].size(); ++meal)
            if (is_eaten_off_duty(solved, day, meal))
                warnings.push_back(solved.shoot.meals[solved.order.meal_of[day][meal]].name + " on " +
                                   geo::to_string(solved.shoot.days[solved.order.day_of[day]].date) +
                                   " is not planned: the crew is off duty long enough inside its hours");
    return warnings;
}

} // namespace routing::shoot
