#include "routing/order/instance.hpp"

#include <algorithm>
#include <bit>
#include <map>
#include <set>
#include <tuple>

namespace routing::order {
namespace {

std::int32_t clamp_leg(Time seconds) {
    return static_cast<std::int32_t>(std::min(seconds, no_way));
}

/// Points at which a day may start.
struct StartSet {
    bool nowhere = false;
    std::set<Point> points;
};

std::vector<StartSet> find_starts(const Problem& problem) {
    std::vector<StartSet> starts(problem.days.size());
    for (std::size_t d = 0; d < problem.days.size(); ++d) {
        const Day& day = problem.days[d];
        if (day.start) {
            starts[d].points = {*day.start};
        } else if (d == 0) {
            starts[d].nowhere = true;
        } else if (const Day& eve = problem.days[d - 1]; !eve.ends.empty()) {
            starts[d].points = {eve.ends.begin(), eve.ends.end()};
        } else {
            starts[d] = starts[d - 1];
            for (const Visit& visit : problem.visits)
                for (const Option& option : visit.options)
                    starts[d].points.insert(option.point);
            for (const Meal& meal : eve.meals)
                starts[d].points.insert(meal.candidates.begin(), meal.candidates.end());
        }
    }
    return starts;
}

void lay_out_ways(const Problem& problem, Instance& instance) {
    std::map<Point, std::uint32_t> rows;
    std::map<std::pair<Point, Time>, std::uint32_t> places;
    for (std::uint32_t v = 0; v < problem.visits.size(); ++v) {
        instance.first_way.push_back(static_cast<std::uint32_t>(instance.ways.size()));
        for (std::uint32_t o = 0; o < problem.visits[v].options.size(); ++o) {
            const Option& option = problem.visits[v].options[o];
            const auto row = rows.try_emplace(option.point, static_cast<std::uint32_t>(rows.size())).first->second;
            if (row == instance.to_points.size())
                instance.to_points.push_back(option.point);
            const auto [place, is_new] = places.try_emplace({option.point, option.pack.count()},
                                                            static_cast<std::uint32_t>(instance.places.size()));
            if (is_new)
                instance.places.push_back({option.point, false, false, option.pack.count(), row});
            instance.ways.push_back({v, o, option.point, row, place->second, option.service.count(),
                                     option.setup.count(), option.pack.count()});
        }
    }
    instance.first_way.push_back(static_cast<std::uint32_t>(instance.ways.size()));
}

/// Rows of `from`: the visit points first, then the start points, then nowhere.
std::vector<Point> lay_out_starts(const Problem& problem, const std::vector<StartSet>& starts, Instance& instance) {
    std::vector<Point> from_points = instance.to_points;
    std::set<Point> points;
    for (const StartSet& set : starts)
        points.insert(set.points.begin(), set.points.end());
    instance.start_place.assign(problem.travel.size, Instance::no_place);
    for (const Point point : points) {
        const auto known = std::find(instance.to_points.begin(), instance.to_points.end(), point);
        auto row = static_cast<std::uint32_t>(known - instance.to_points.begin());
        if (known == instance.to_points.end()) {
            row = static_cast<std::uint32_t>(from_points.size());
            from_points.push_back(point);
        }
        instance.start_place[point] = static_cast<std::uint32_t>(instance.places.size());
        const bool set_up = std::any_of(problem.days.begin(), problem.days.end(),
                                        [&](const Day& day) { return day.set_up_at_start && day.start == point; });
        instance.places.push_back({point, false, true, 0, row, set_up});
    }
    instance.nowhere = static_cast<std::uint32_t>(instance.places.size());
    instance.places.push_back({0, true, true, 0, static_cast<std::uint32_t>(from_points.size())});
    instance.first_start = problem.days[0].start ? instance.start_place[*problem.days[0].start] : instance.nowhere;
    return from_points;
}

std::vector<Point> all_meal_points(const Problem& problem) {
    std::set<Point> points;
    for (const Day& day : problem.days)
        for (const Meal& meal : day.meals)
            points.insert(meal.candidates.begin(), meal.candidates.end());
    return {points.begin(), points.end()};
}

/// Least travel from `from` to any of `targets`, straight or by one meal point.
Time least_by_meal(const TravelMatrix& travel, Point from, const std::vector<Point>& meals,
                   const std::vector<Time>& onward, Time straight) {
    Time least = straight;
    for (std::size_t m = 0; m < meals.size(); ++m)
        least = std::min(least, leg(travel, from, meals[m]) + onward[m]);
    return std::min(least, no_way);
}

Time to_nearest(const TravelMatrix& travel, Point from, const std::vector<Point>& targets) {
    Time least = no_way;
    for (const Point target : targets)
        least = std::min(least, leg(travel, from, target));
    return least;
}

void lay_out_travel(const Problem& problem, const std::vector<Point>& from_points, Instance& instance) {
    const TravelMatrix& travel = problem.travel;
    const std::vector<Point> meals = all_meal_points(problem);
    const std::size_t columns = instance.to_points.size();
    instance.legs.assign((from_points.size() + 1) * columns, 0); // the last row, nowhere, stays 0
    instance.arcs.assign((from_points.size() + 1) * columns, 0);
    std::vector<Time> onward(meals.size());
    for (std::size_t to = 0; to < columns; ++to) {
        const Point target = instance.to_points[to];
        for (std::size_t m = 0; m < meals.size(); ++m)
            onward[m] = leg(travel, meals[m], target);
        for (std::size_t from = 0; from < from_points.size(); ++from) {
            const Time straight = leg(travel, from_points[from], target);
            instance.legs[from * columns + to] = clamp_leg(straight);
            instance.arcs[from * columns + to] =
                clamp_leg(least_by_meal(travel, from_points[from], meals, onward, straight));
        }
    }
    for (const Day& day : problem.days) {
        std::vector<Time>& row = instance.end_arc.emplace_back(from_points.size() + 1, 0);
        if (day.ends.empty())
            continue;
        for (std::size_t m = 0; m < meals.size(); ++m)
            onward[m] = to_nearest(travel, meals[m], day.ends);
        for (std::size_t from = 0; from < from_points.size(); ++from)
            row[from] = least_by_meal(travel, from_points[from], meals, onward,
                                      to_nearest(travel, from_points[from], day.ends));
    }
}

void lay_out_varying(const Problem& problem, const std::vector<Point>& from_points, Instance& instance) {
    instance.varying = VaryingLegs(problem, instance.origin);
    if (instance.varying.empty())
        return;
    for (const Point from : from_points)
        for (const Point to : instance.to_points)
            instance.leg_departures.push_back(instance.varying.between(from, to));
    instance.leg_departures.resize(instance.legs.size()); // from nowhere nothing varies
}

/// Gives `gap` the point, once for each choice of hours its meals there may be had at.
void add_point(Gap& gap, Point point, const Day& day, const std::vector<MealRule>& rules, Instant origin) {
    std::vector<std::vector<Span>> choices{{}};
    bool bound = false;
    for (std::uint32_t m = gap.first; m <= gap.last; ++m) {
        if (!(gap.there >> m & 1U))
            continue;
        // The first is what brings the crew here; one carried along is then had at any hour.
        const bool carried = day.meals[m].anywhere && m != static_cast<std::uint32_t>(std::countr_zero(gap.there));
        const auto starts = carried ? std::nullopt : open_starts(day.meals[m], rules[m], point, origin);
        bound = bound || starts.has_value();
        std::vector<std::vector<Span>> longer;
        for (const std::vector<Span>& choice : choices)
            for (const Span& start : starts.value_or(std::vector<Span>{{-no_limit, no_limit}})) {
                longer.push_back(choice);
                longer.back().push_back(start);
            }
        choices = std::move(longer);
    }
    if (!bound)
        choices = {{}};
    for (std::vector<Span>& choice : choices) {
        const auto known = std::find(gap.hours.begin(), gap.hours.end(), choice);
        gap.points.push_back({point, static_cast<std::uint32_t>(known - gap.hours.begin())});
        if (known == gap.hours.end())
            gap.hours.push_back(std::move(choice));
    }
}

std::vector<Gap> find_gaps(const Day& day, const std::vector<MealRule>& rules, Instant origin) {
    const std::vector<Meal>& meals = day.meals;
    std::vector<Gap> gaps;
    const auto count = static_cast<std::uint32_t>(meals.size());
    for (std::uint32_t taken = 1; taken < 1U << count; ++taken) {
        for (std::uint32_t split = 0; split <= count; ++split) {
            // Meals are taken in the order listed: here those before `split`, there the rest.
            const std::uint32_t here = taken & ((1U << split) - 1U);
            const std::uint32_t there = taken & ~here;
            if (split > 0 && !(here >> (split - 1U) & 1U))
                continue; // the same as a smaller split
            Gap gap{here,
                    there,
                    static_cast<std::uint32_t>(std::countr_zero(taken)),
                    static_cast<std::uint32_t>(std::bit_width(taken) - 1),
                    {},
                    {{}}};
            bool possible = true;
            for (std::uint32_t m = 0; m < count; ++m)
                possible = possible && (!(here >> m & 1U) || meals[m].anywhere);
            const auto serves = [&](const Meal& meal, Point point) {
                return std::find(meal.candidates.begin(), meal.candidates.end(), point) != meal.candidates.end();
            };
            std::set<Point> seen;
            if (possible && there != 0)
                for (const Point point : meals[static_cast<std::size_t>(std::countr_zero(there))].candidates) {
                    bool good = seen.insert(point).second;
                    for (std::uint32_t m = 0; m < count && good; ++m)
                        good = !(there >> m & 1U) || meals[m].anywhere || serves(meals[m], point);
                    if (good)
                        add_point(gap, point, day, rules, origin);
                }
            if (possible && (there == 0 || !gap.points.empty()))
                gaps.push_back(std::move(gap));
        }
    }
    return gaps;
}

/// Lower bounds of the time from leaving one place to arriving at a visit point, over any stops between.
struct Reach {
    std::size_t columns = 0;
    std::vector<Time> seconds;
    std::vector<Time> least_setup; ///< by visit point
    std::vector<Time> least_pack;
    Time operator()(std::size_t from, std::size_t to) const { return seconds[from * columns + to]; }
};

Reach find_reach(const Instance& instance) {
    Reach reach;
    reach.columns = instance.to_points.size();
    const std::size_t rows = reach.columns == 0 ? 0 : instance.arcs.size() / reach.columns;
    reach.seconds.assign(instance.arcs.begin(), instance.arcs.end());
    const std::size_t n = reach.columns;
    // Floyd and Warshall among the visit points (the first n rows); the start rows need one relaxation more each.
    for (std::size_t k = 0; k < n; ++k)
        for (std::size_t i = 0; i < rows; ++i)
            for (std::size_t j = 0; j < n; ++j)
                reach.seconds[i * n + j] =
                    std::min(reach.seconds[i * n + j], reach.seconds[i * n + k] + reach.seconds[k * n + j]);
    reach.least_setup.assign(n, no_way);
    reach.least_pack.assign(n, no_way);
    for (const Way& way : instance.ways) {
        reach.least_setup[way.to] = std::min(reach.least_setup[way.to], way.setup);
        reach.least_pack[way.to] = std::min(reach.least_pack[way.to], way.pack);
    }
    return reach;
}

/// From being ready at `place` to the start of service of `way`, at least.
Time least_approach(const Reach& reach, const Place& place, const Way& way) {
    if ((!place.start || place.set_up) && !place.nowhere && place.point == way.point)
        return 0;
    const Time packing = place.start ? 0 : reach.least_pack[place.from];
    return packing + reach(place.from, way.to) + reach.least_setup[way.to];
}

void cut_windows(const Problem& problem, const StartSet& starts, const Reach& reach, std::size_t d,
                 Instance& instance) {
    DayPlan& day = instance.days[d];
    for (const Way& way : instance.ways) {
        day.first_window.push_back(static_cast<std::uint32_t>(day.windows.size()));
        Time approach = starts.nowhere ? reach.least_setup[way.to] : no_way;
        for (const Point point : starts.points)
            approach = std::min(approach, least_approach(reach, instance.places[instance.start_place[point]], way));
        Time retreat = reach.least_pack[way.to];
        if (!day.ends.empty()) {
            Time nearest = no_way;
            for (std::size_t to = 0; to < instance.to_points.size(); ++to)
                nearest = std::min(nearest, reach(way.to, to) + instance.end_arc[d][to]);
            retreat += nearest;
        }
        const Time earliest = day.earliest_call + approach;
        const Time latest = day.latest_wrap - retreat - way.service;
        for (const TimeWindow& window : problem.visits[way.visit].options[way.option].windows) {
            const Span span{std::max(since(instance.origin, window.earliest), earliest),
                            std::min(since(instance.origin, window.latest), latest)};
            if (span.earliest <= span.latest && approach < no_way && retreat < no_way)
                day.windows.push_back(span);
        }
    }
    day.first_window.push_back(static_cast<std::uint32_t>(day.windows.size()));
}

void find_deadlines(const Instance& instance, const Reach& reach, DayPlan& day) {
    day.deadline.assign(instance.places.size() * instance.visits, -1);
    for (std::size_t p = 0; p < instance.places.size(); ++p)
        for (std::size_t w = 0; w < instance.ways.size(); ++w) {
            if (day.first_window[w] == day.first_window[w + 1])
                continue;
            const Time approach = least_approach(reach, instance.places[p], instance.ways[w]);
            const Time latest = day.windows[day.first_window[w + 1] - 1].latest - approach;
            std::int32_t& deadline = day.deadline[p * instance.visits + instance.ways[w].visit];
            deadline = std::max(deadline, static_cast<std::int32_t>(std::max<Time>(latest, -1)));
        }
}

VisitSet possible_on(const Instance& instance, const DayPlan& day) {
    VisitSet possible = 0;
    for (std::size_t w = 0; w < instance.ways.size(); ++w)
        if (day.first_window[w] < day.first_window[w + 1])
            possible |= VisitSet{1} << instance.ways[w].visit;
    return possible;
}

void find_order_and_value(const Problem& problem, Instance& instance) {
    instance.before.assign(instance.visits, 0);
    for (std::size_t v = 0; v < instance.visits; ++v) {
        for (const std::uint32_t before : problem.visits[v].after)
            instance.before[v] |= VisitSet{1} << before;
        instance.value.push_back(problem.visits[v].must_weight * must_unit + problem.visits[v].worth);
        if (instance.value[v] > 0)
            instance.valued |= VisitSet{1} << v;
    }
    for (std::size_t k = 0; k < instance.visits; ++k)
        for (std::size_t v = 0; v < instance.visits; ++v)
            if (instance.before[v] >> k & 1U)
                instance.before[v] |= instance.before[k];
}

} // namespace

Instance prepare(const Problem& problem) {
    Instance instance;
    instance.problem = &problem;
    instance.origin = problem.days.front().earliest_call;
    instance.visits = static_cast<std::uint32_t>(problem.visits.size());
    find_order_and_value(problem, instance);
    const std::vector<StartSet> starts = find_starts(problem);
    lay_out_ways(problem, instance);
    const std::vector<Point> from_points = lay_out_starts(problem, starts, instance);
    lay_out_travel(problem, from_points, instance);
    lay_out_varying(problem, from_points, instance);
    const Reach reach = find_reach(instance);

    for (std::size_t d = 0; d < problem.days.size(); ++d) {
        const Day& day = problem.days[d];
        DayPlan plan;
        plan.earliest_call = since(instance.origin, day.earliest_call);
        plan.latest_wrap = since(instance.origin, day.latest_wrap);
        plan.pack_at_start = day.pack_at_start.count();
        plan.set_up_at_start = day.set_up_at_start && day.start;
        plan.running = day.called_at.has_value();
        if (d + 1 < problem.days.size()) {
            const std::optional<Point>& next = problem.days[d + 1].start;
            plan.carries = !next;
            plan.fixed_start = next ? instance.start_place[*next] : Instance::no_place;
        }
        for (const Point end : day.ends) // a point named twice is one end
            if (std::find(plan.ends.begin(), plan.ends.end(), end) == plan.ends.end())
                plan.ends.push_back(end);
        for (const Meal& meal : day.meals)
            plan.meals.push_back(meal_rule(meal, day, instance.origin));
        plan.gaps = find_gaps(day, plan.meals, instance.origin);
        instance.days.push_back(std::move(plan));
        cut_windows(problem, starts[d], reach, d, instance);
        find_deadlines(instance, reach, instance.days[d]);
        instance.days[d].possible = possible_on(instance, instance.days[d]);
    }
    return instance;
}

} // namespace routing::order
