#include "routing/shoot/solve_shoot.hpp"

#include "routing/order/timed_order.hpp"
#include "routing/shoot/avoided_roads.hpp"
#include "routing/shoot/plan_builder.hpp"
#include "routing/shoot/reasons.hpp"

#include <algorithm>
#include <chrono>

namespace routing::shoot {

namespace {

/// Each re-solve for a reason may use this share of the work the plan itself may take.
constexpr std::uint64_t reason_share = 100;

/// What a planner should tell beside the plan itself.
std::vector<std::string> shoot_warnings(const Shoot& shoot, const StopPoints& points, const ClosedRoads& shut,
                                        const OrderProblem& order) {
    std::vector<std::string> warnings = shoot.warnings;
    if (shoot.told_sky)
        warnings.push_back("made for a sky that is " + shoot.told_sky->sky +
                           (shoot.told_sky->on ? " on " + geo::to_string(*shoot.told_sky->on) : " on every day") +
                           ": look at the sky and at the official weather warnings before you set out");
    for (const std::string& description : shut.descriptions)
        warnings.push_back(description);
    for (std::size_t n = 0; n < shoot.locations.size(); ++n) {
        const StopPoint& point = points.points[points.locations[n].front()];
        if (point.walk.time.count() > 0 && point.estimated && !point.cut_off)
            warnings.push_back(
                shoot.locations[n].name + ": about " +
                std::to_string(std::max<std::int64_t>(1, std::chrono::round<minutes>(point.walk.time).count())) +
                " min on foot from the van each way, estimated from the straight line: no path on the map leads there; "
                "find the way before the day");
        if (point.road.passed_over_nearer)
            warnings.push_back(shoot.locations[n].name +
                               ": a nearer road was passed over, the van can't get in and out of it");
    }
    const roads::Vehicle& vehicle = shoot.crew.vehicle;
    for (const auto& [given, name] : {std::pair{vehicle.height.has_value(), "height"},
                                      {vehicle.width.has_value(), "width"},
                                      {vehicle.weight.has_value(), "weight"}})
        if (!given)
            warnings.push_back(std::string("vehicle ") + name + " not given: signed limits on it are not checked");
    for (std::size_t day = 0; day < order.problem.days.size(); ++day)
        if (shoot.days[order.day_of[day]].end == DayEdge::bed && order.problem.days[day].ends.empty())
            warnings.push_back("no lodging of the kinds asked for on this map: the night of " +
                               geo::to_string(shoot.days[order.day_of[day]].date) + " is spent at the last stop");
    return warnings;
}

/// A day that starts where no open road leads to any of its ends ends at its last stop instead, so that what can be
/// reached is still planned. Says so for each.
std::vector<std::string> free_cut_off_ends(OrderProblem& built, const Shoot& shoot, const StopPoints& points) {
    std::vector<std::string> warnings;
    for (std::size_t n = 0; n < built.problem.days.size(); ++n) {
        order::Day& day = built.problem.days[n];
        if (!day.start || day.ends.empty())
            continue;
        const bool cut_off = std::none_of(day.ends.begin(), day.ends.end(), [&](order::Point end) {
            return (*day.start == end && !points.drives_out_from(end)) ||
                   built.problem.travel(*day.start, end) < order::TravelMatrix::unreachable;
        });
        if (!cut_off)
            continue;
        day.ends.clear();
        warnings.push_back("cut off by the closures on " + geo::to_string(shoot.days[built.day_of[n]].date) +
                           ": no open road leads from where the day starts to base or bed; it ends at the last stop");
    }
    return warnings;
}

/// From the first call to the last wrap: what a leg takes outside them is never asked.
order::TimeWindow hours_of(const std::vector<order::Day>& days) {
    order::TimeWindow hours{days.front().earliest_call, days.front().latest_wrap};
    for (const order::Day& day : days)
        hours = {std::min(hours.earliest, day.earliest_call),
                 std::max({hours.latest, day.latest_wrap, day.earliest_call})};
    return hours;
}

/// As if nothing were shut, for the van or on foot.
order::TravelMatrix open_travel_matrix(StopPoints points, const Region& region) {
    for (StopPoint& point : points.points)
        point.cut_off = false;
    points.way_out.reset();
    return travel_matrix(points, {region.hierarchy, *region.network, {}});
}

std::string bound_text(const order::Solution& solution, const Plan& plan, bool wrap_first) {
    if (solution.bound.must_weight > solution.score.must_weight)
        return "up to " + std::to_string(solution.bound.must_weight - solution.score.must_weight) +
               " more must scene(s) can't be ruled out";
    if (solution.bound.meals > solution.score.meals)
        return "a missed meal can't be ruled out as avoidable";
    if (plan.worth_bound > plan.worth)
        return "worth " + std::to_string(plan.worth) + " of at most " + std::to_string(plan.worth_bound);
    return "same scenes; up to " +
           std::to_string(
               std::chrono::ceil<minutes>(Seconds{solution.bound.economy - solution.score.economy}).count()) +
           (wrap_first ? " min earlier wrap can't be ruled out" : " min less on the move can't be ruled out");
}

/// The best order of roads that are open at every hour, timed by those that are not; nothing when a closure gets in its
/// way. Closures only ever make legs longer, so it is the best under them too, and by as much as it was proven.
std::optional<order::Solution> solve_past_closures(const order::Problem& problem, const order::SolveLimits& limits) {
    order::Problem open = problem;
    open.varying.clear();
    order::Solution solution = order::solve(open, limits);
    if (!solution.found)
        return std::nullopt;
    auto timed = order::time_order(problem, solution.stops);
    if (!timed || timed->travel != -solution.score.economy || timed->wrap != -solution.score.last ||
        timed->missed_meals != solution.missed_meals)
        return std::nullopt;
    solution.stops = std::move(timed->stops);
    return solution;
}

/// Sets the economy it solves by.
order::Solution solve_order(order::Problem& problem, order::SolveLimits limits) {
    if (problem.varying.empty())
        return order::solve(problem, limits);
    const auto started = std::chrono::steady_clock::now();
    if (auto solution = solve_past_closures(problem, limits))
        return std::move(*solution);
    // Else a crew waits for hours to save minutes at the wheel.
    problem.economy = order::Economy::wrap;
    if (limits.time > Seconds{0}) {
        const auto spent = std::chrono::floor<Seconds>(std::chrono::steady_clock::now() - started);
        limits.time = std::max(limits.time - spent, Seconds{1});
    }
    return order::solve(problem, limits);
}

} // namespace

Plan solve_shoot(const Shoot& shoot, const Region& region, const StopPoints& snapped, const ClosedRoads& shut,
                 const std::optional<Running>& running, const PlanSettings& settings) {
    const auto started = std::chrono::steady_clock::now();
    const AvoidedRoads avoided = avoid_roads(shoot, region, snapped, shut);
    const StopPoints& points = avoided.points;
    roads::hierarchy::Metric roads_open(region.hierarchy, *region.network, avoided.shut);
    TimedTravel timed(region, roads_open, shut, points);
    OrderProblem built = build_order_problem(shoot, region, points, travel_matrix(points, roads_open), running);
    built.problem.varying = timed.varying_legs(built.problem.travel, hours_of(built.problem.days));
    std::vector<std::string> warnings = shoot_warnings(shoot, points, shut, built);
    if (!timed.is_exact())
        warnings.emplace_back(
            "many roads, or roads for destination traffic around a stop, are shut for a time: a leg that would meet "
            "such a closure takes the way round all of them, though some may be open");
    warnings.insert(warnings.begin(), avoided.warnings.begin(), avoided.warnings.end());
    if (shut.any()) {
        const std::vector<std::string> cut_off = free_cut_off_ends(built, shoot, points);
        warnings.insert(warnings.begin(), cut_off.begin(), cut_off.end());
    }
    const order::Solution solution = solve_order(built.problem, settings.limits);
    const SolvedShoot solved{shoot, region, points, built, solution, roads_open, timed};

    Plan plan;
    plan.told_sky = shoot.told_sky;
    plan.days = build_days(solved);
    plan.proven = solution.proof == order::Proof::optimal;
    plan.worth = solution.score.worth;
    plan.worth_bound = solution.bound.worth;
    plan.labels = solution.labels;
    if (!plan.proven)
        plan.bound_text = bound_text(solution, plan, built.problem.economy == order::Economy::wrap);
    if (!solution.dropped.empty()) {
        ReasonInput input{shoot,       built, solution,
                          points,      {},    std::max<std::uint64_t>(1, settings.limits.labels / reason_share),
                          std::nullopt};
        if (settings.limits.time > Seconds{0})
            input.deadline = started + settings.limits.time;
        if (shut.any())
            input.open_travel = open_travel_matrix(points, region);
        plan.dropped = explain_dropped(input);
    }
    const bool lost_must =
        std::any_of(plan.dropped.begin(), plan.dropped.end(), [](const Dropped& d) { return d.must; });
    plan.result = lost_must ? PlanResult::partial : plan.proven ? PlanResult::optimal : PlanResult::feasible;
    plan.warnings = std::move(warnings);
    for (std::string& warning : missed_meal_warnings(solved))
        plan.warnings.push_back(std::move(warning));
    return plan;
}

} // namespace routing::shoot
