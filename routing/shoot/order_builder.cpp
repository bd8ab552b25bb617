#include "routing/shoot/order_builder.hpp"

#include "routing/shoot/meal_places.hpp"
#include "routing/shoot/night_walks.hpp"
#include "routing/shoot/scene_light.hpp"
#include "routing/shoot/site_hours.hpp"

#include <algorithm>

namespace routing::shoot {

namespace {

std::vector<order::Point> places_of_kinds(const Region& region, const StopPoints& points,
                                          const std::vector<places::PlaceKind>& kinds) {
    std::vector<order::Point> found;
    for (std::size_t n = 0; n < points.places.size(); ++n) {
        const places::PlaceKind kind = region.places[points.places[n]].kind;
        if (std::find(kinds.begin(), kinds.end(), kind) != kinds.end())
            found.push_back(points.point_of_place(n));
    }
    return found;
}

std::vector<order::TimeWindow> start_windows(const Shoot& shoot, const SceneOption& option,
                                             const std::vector<std::uint32_t>& days) {
    std::vector<order::TimeWindow> windows;
    for (const std::uint32_t day : days)
        for (const geo::Interval& span : light_in_day(shoot, option, shoot.days[day]))
            if (span.until - option.length >= span.from)
                windows.push_back({span.from, span.until - option.length});
    return windows;
}

/// Starts that leave set-up, filming and packing inside the location's opening hours.
std::vector<order::TimeWindow> in_open_hours(std::vector<order::TimeWindow> windows, const Shoot& shoot,
                                             const SceneOption& option) {
    const Location& location = shoot.locations[option.location];
    if (location.open.empty() || windows.empty())
        return windows;
    geo::Intervals starts, open;
    for (const order::TimeWindow& window : windows)
        starts.push_back({window.earliest, window.latest});
    const minutes after = option.length + location.pack;
    for (const geo::Interval& hours :
         open_hours(shoot, location, {windows.front().earliest - location.setup, windows.back().latest + after}))
        if (hours.from + location.setup <= hours.until - after)
            open.push_back({hours.from + location.setup, hours.until - after});
    windows.clear();
    for (const geo::Interval& start : geo::intersect(starts, open))
        windows.push_back({start.from, start.until});
    return windows;
}

/// Starts of filming that lies between the scene's own limits.
std::vector<order::TimeWindow> in_own_limits(std::vector<order::TimeWindow> windows, const Scene& scene,
                                             minutes length) {
    for (order::TimeWindow& window : windows) {
        if (scene.not_before)
            window.earliest = std::max(window.earliest, *scene.not_before);
        if (scene.not_after)
            window.latest = std::min(window.latest, *scene.not_after - length);
    }
    std::erase_if(windows, [](const order::TimeWindow& window) { return window.latest < window.earliest; });
    return windows;
}

order::Meal build_meal(const Shoot& shoot, const MealFinder& finder, const StopPoints& points,
                       std::uint32_t wish_number, const ShootDay& day) {
    const MealWish& wish = shoot.meals[wish_number];
    order::Meal meal;
    const auto within_from = [&](geo::CivilDate date) {
        const geo::CivilDate until = wish.until > wish.from ? date : geo::next_date(date);
        return order::TimeWindow{geo::instant_of(date, wish.from, shoot.zone),
                                 geo::instant_of(until, wish.until, shoot.zone)};
    };
    meal.within = within_from(day.date);
    // On a night shoot a meal after midnight belongs to the night that began the evening before.
    if (meal.within.latest <= working_span(day, shoot.zone).from)
        meal.within = within_from(geo::next_date(day.date));
    meal.service = wish.length;
    if (wish.within_of_call)
        meal.within_of_call = *wish.within_of_call;
    switch (wish.where) {
    case MealWhere::packed:
        meal.anywhere = true;
        break;
    case MealWhere::fixed:
        meal.candidates = {*points.fixed_meals[wish_number]};
        break;
    case MealWhere::find: {
        MealPlaces found = finder.places_for(wish, meal.within);
        meal.candidates = std::move(found.candidates);
        meal.hours = std::move(found.hours);
        break;
    }
    }
    return meal;
}

std::vector<order::Point> day_ends(const Shoot& shoot, const Region& region, const StopPoints& points, DayEdge edge) {
    switch (edge) {
    case DayEdge::base:
        return {*points.base};
    case DayEdge::bed:
        return shoot.lodging->find ? places_of_kinds(region, points, shoot.lodging->kinds)
                                   : std::vector<order::Point>{*points.fixed_bed};
    case DayEdge::anywhere:
        break;
    }
    return {};
}

/// Visits of the scenes still to be shot; `after` is kept among them (what is in the can came before anyway).
void add_visits(OrderProblem& built, const Shoot& shoot, const StopPoints& points, const std::vector<bool>& out) {
    NightWalks night(shoot, built.day_of);
    std::vector<std::optional<std::uint32_t>> visit_of(shoot.scenes.size());
    for (std::uint32_t scene = 0; scene < shoot.scenes.size(); ++scene) {
        if (out[scene])
            continue;
        visit_of[scene] = static_cast<std::uint32_t>(built.problem.visits.size());
        order::Visit visit;
        visit.must_weight = shoot.scenes[scene].must ? 1 : 0;
        visit.worth = shoot.scenes[scene].must ? 0 : shoot.scenes[scene].worth;
        built.option_of_visit.emplace_back();
        built.dark_walks_of_visit.emplace_back();
        built.left_out.emplace_back();
        for (std::uint32_t n = 0; n < shoot.scenes[scene].options.size(); ++n) {
            const SceneOption& option = shoot.scenes[scene].options[n];
            const Location& location = shoot.locations[option.location];
            const std::vector<order::TimeWindow> lit = start_windows(shoot, option, built.day_of);
            const std::vector<order::TimeWindow> wanted = in_own_limits(lit, shoot.scenes[scene], option.length);
            const std::vector<order::TimeWindow> windows = in_open_hours(wanted, shoot, option);
            if (wanted.empty() && !lit.empty())
                built.left_out.back() = "its light leaves no " + std::to_string(option.length.count()) +
                                        " min between the earliest and latest times it asks for";
            else if (windows.empty() && !wanted.empty())
                built.left_out.back() = location.name + " is not open (" + location.open +
                                        ") while its light lasts, set-up and packing included";
            for (const order::Point point : points.locations[option.location]) { // each place to leave the van
                std::vector<NightStart> parts = night.split(windows, option, points.points[point]);
                if (parts.empty()) { // stays, to be told as dropped
                    if (!windows.empty())
                        built.left_out.back() = "the map calls the path to " + location.name +
                                                " hard to see, and its light would have it walked in darkness: look at "
                                                "the way by day and say walk_in_darkness there, or ask for other light";
                    parts.emplace_back();
                }
                for (NightStart& part : parts) {
                    visit.options.push_back({point, option.length, location.setup + part.more_in,
                                             location.pack + part.more_out, std::move(part.windows)});
                    built.option_of_visit.back().push_back(n);
                    built.dark_walks_of_visit.back().push_back({part.more_in, part.more_out});
                }
            }
        }
        built.problem.visits.push_back(std::move(visit));
        built.scene_of_visit.push_back(scene);
    }
    for (std::uint32_t visit = 0; visit < built.problem.visits.size(); ++visit)
        for (const std::uint32_t before : shoot.scenes[built.scene_of_visit[visit]].after)
            if (visit_of[before])
                built.problem.visits[visit].after.push_back(*visit_of[before]);
}

/// Filming where the crew is setting up just now can't start before the set-up is done.
void hold_for_set_up(std::vector<order::Visit>& visits, const Running& running) {
    for (order::Visit& visit : visits)
        for (order::Option& option : visit.options)
            if (option.point == running.start) {
                std::erase_if(option.windows,
                              [&](const order::TimeWindow& w) { return w.latest < running.set_up_ready; });
                for (order::TimeWindow& window : option.windows)
                    window.earliest = std::max(window.earliest, running.set_up_ready);
            }
}

} // namespace

OrderProblem build_order_problem(const Shoot& shoot, const Region& region, const StopPoints& points,
                                 order::TravelMatrix travel, const std::optional<Running>& running) {
    OrderProblem built;
    built.problem.travel = std::move(travel);
    built.problem.turnaround = shoot.crew.turnaround;
    for (std::uint32_t day = running ? running->first_day : 0; day < shoot.days.size(); ++day)
        built.day_of.push_back(day);
    const MealFinder finder(shoot, region, points, built.problem.travel);

    for (const std::uint32_t number : built.day_of) {
        const ShootDay& wish = shoot.days[number];
        const bool resumed = running && number == running->first_day;
        const geo::Interval span = working_span(wish, shoot.zone);
        order::Day day;
        day.earliest_call = span.from;
        day.latest_wrap = span.until;
        if (wish.start == DayEdge::base)
            day.start = points.base;
        day.ends = day_ends(shoot, region, points, wish.end);
        built.meal_of.emplace_back();
        for (std::uint32_t n = 0; n < shoot.meals.size(); ++n) {
            if (resumed && running->meals_done.contains(shoot.meals[n].name))
                continue;
            day.meals.push_back(build_meal(shoot, finder, points, n, wish));
            built.meal_of.back().push_back(n);
        }
        if (resumed) {
            day.start = running->start;
            day.earliest_call = std::max(day.earliest_call, running->free_from);
            day.called_at = running->called_at;
            day.set_up_at_start = running->set_up;
            day.pack_at_start = running->pack;
        }
        built.problem.days.push_back(std::move(day));
    }
    add_visits(built, shoot, points, running ? running->scenes_out : std::vector<bool>(shoot.scenes.size(), false));
    if (running && running->set_up)
        hold_for_set_up(built.problem.visits, *running);
    return built;
}

} // namespace routing::shoot
