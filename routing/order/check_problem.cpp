#include "routing/order/check_problem.hpp"

#include <algorithm>
#include <set>
#include <stdexcept>
#include <string>
#include <utility>

namespace routing::order {
namespace {

constexpr std::int64_t most_must_weight = 1 << 20;
constexpr std::int64_t most_worth = 2'000'000'000;
constexpr Seconds longest_turnaround{7 * 24 * 3600};
/// All days, from the first call to the last wrap (194 days).
constexpr Seconds longest_span{1 << 24};

[[noreturn]] void refuse(const std::string& part, const std::string& problem) {
    throw std::invalid_argument(part + ": " + problem);
}

void check_length(const std::string& part, Seconds length) {
    if (length < Seconds{0} || length > Seconds{longest_leg})
        refuse(part, "must be 0 to " + std::to_string(longest_leg) + " s");
}

void check_point(const std::string& part, Point point, const Problem& problem) {
    if (point >= problem.travel.size)
        refuse(part, "point " + std::to_string(point) + " is not in the travel matrix");
}

void check_travel(const TravelMatrix& travel) {
    if (travel.size > 65'535)
        refuse("travel", "more than 65535 points");
    if (travel.seconds.size() != std::size_t{travel.size} * travel.size)
        refuse("travel", "does not hold size * size entries");
    for (const std::int32_t seconds : travel.seconds)
        if (seconds < 0 || (seconds > longest_leg && seconds < TravelMatrix::unreachable))
            refuse("travel", "an entry is negative or longer than the longest leg");
}

void check_varying(const Problem& problem) {
    std::set<std::pair<Point, Point>> seen;
    for (const VaryingLeg& leg : problem.varying) {
        const std::string part = "varying leg " + std::to_string(leg.from) + " to " + std::to_string(leg.to);
        check_point(part, leg.from, problem);
        check_point(part, leg.to, problem);
        if (leg.from == leg.to)
            refuse(part, "leads nowhere");
        if (!seen.insert({leg.from, leg.to}).second)
            refuse(part, "is there twice");
        for (const Passage& passage : leg.passages) {
            if (passage.seconds < 1 || passage.seconds > longest_leg)
                refuse(part, "a passage must take 1 to " + std::to_string(longest_leg) + " s");
            if (passage.seconds < problem.travel(leg.from, leg.to))
                refuse(part, "a passage is shorter than the travel matrix says");
            if (passage.departure.latest < passage.departure.earliest)
                refuse(part, "a passage ends before it begins");
        }
    }
}

void check_visit(const std::string& part, const Visit& visit, const Problem& problem) {
    if (visit.options.empty())
        refuse(part, "has no option");
    if (visit.options.size() > most_options)
        refuse(part, "has more than " + std::to_string(most_options) + " options");
    if (visit.must_weight < 0 || visit.worth < 0)
        refuse(part, "weight and worth can't be negative");
    for (const Option& option : visit.options) {
        check_point(part, option.point, problem);
        check_length(part + " service", option.service);
        check_length(part + " setup", option.setup);
        check_length(part + " pack", option.pack);
        for (std::size_t w = 0; w < option.windows.size(); ++w) {
            if (option.windows[w].latest < option.windows[w].earliest)
                refuse(part, "a window ends before it begins");
            if (w > 0 && option.windows[w].earliest < option.windows[w - 1].latest)
                refuse(part, "windows overlap or are not in order of time");
        }
    }
    for (const std::uint32_t before : visit.after)
        if (before >= problem.visits.size())
            refuse(part, "comes after visit " + std::to_string(before) + ", which is not there");
}

void check_circles(const std::vector<Visit>& visits) {
    std::vector<bool> placed(visits.size(), false);
    for (std::size_t round = 0; round < visits.size(); ++round)
        for (std::size_t v = 0; v < visits.size(); ++v) {
            bool ready = true;
            for (const std::uint32_t before : visits[v].after)
                ready = ready && placed[before];
            placed[v] = placed[v] || ready;
        }
    for (std::size_t v = 0; v < visits.size(); ++v)
        if (!placed[v])
            refuse("visit " + std::to_string(v), "comes after itself");
}

void check_hours(const std::string& part, const Meal& meal) {
    std::set<Point> known;
    for (const MealHours& hours : meal.hours) {
        if (std::find(meal.candidates.begin(), meal.candidates.end(), hours.point) == meal.candidates.end())
            refuse(part, "has hours of a meal point that is no candidate");
        if (!known.insert(hours.point).second)
            refuse(part, "has hours of a meal point twice");
        for (std::size_t w = 0; w < hours.open.size(); ++w)
            if (hours.open[w].latest < hours.open[w].earliest ||
                (w > 0 && hours.open[w].earliest < hours.open[w - 1].latest))
                refuse(part, "has hours of a meal point that end before they begin or are out of order");
    }
}

void check_day(const std::string& part, const Day& day, const Problem& problem) {
    if (day.start)
        check_point(part + " start", *day.start, problem);
    if (day.set_up_at_start && !day.start)
        refuse(part, "is set up at its start but has none");
    check_length(part + " pack at start", day.pack_at_start);
    if (day.ends.size() > most_ends)
        refuse(part, "has more than " + std::to_string(most_ends) + " ends");
    for (const Point end : day.ends)
        check_point(part + " end", end, problem);
    if (day.meals.size() > most_meals)
        refuse(part, "has more than " + std::to_string(most_meals) + " meals");
    for (const Meal& meal : day.meals) {
        check_length(part + " meal", meal.service);
        if (meal.within_of_call)
            check_length(part + " meal within of call", *meal.within_of_call);
        if (meal.within.latest < meal.within.earliest)
            refuse(part, "a meal's window ends before it begins");
        for (const Point candidate : meal.candidates)
            check_point(part + " meal", candidate, problem);
        check_hours(part, meal);
    }
}

} // namespace

void check_problem(const Problem& problem) {
    if (problem.visits.size() > most_visits)
        refuse("visits", "more than " + std::to_string(most_visits));
    if (problem.days.empty() || problem.days.size() > most_days)
        refuse("days", "must be 1 to " + std::to_string(most_days));
    check_travel(problem.travel);
    check_varying(problem);
    if (problem.turnaround < Seconds{0} || problem.turnaround > longest_turnaround)
        refuse("turnaround", "must be 0 to " + std::to_string(longest_turnaround.count()) + " s");

    std::int64_t must_weight = 0;
    std::int64_t worth = 0;
    for (std::size_t v = 0; v < problem.visits.size(); ++v) {
        const Visit& visit = problem.visits[v];
        check_visit("visit " + std::to_string(v), visit, problem);
        if (visit.must_weight > most_must_weight - must_weight || visit.worth > most_worth - worth)
            refuse("visit " + std::to_string(v), "weights or worths add up to too much");
        must_weight += visit.must_weight;
        worth += visit.worth;
    }
    check_circles(problem.visits);

    const Instant first_call = problem.days.front().earliest_call;
    for (std::size_t d = 0; d < problem.days.size(); ++d) {
        const std::string part = "day " + std::to_string(d);
        const Day& day = problem.days[d];
        check_day(part, day, problem);
        if (d > 0 && day.earliest_call < problem.days[d - 1].earliest_call)
            refuse(part, "is called before the day before it");
        if (day.latest_wrap > first_call + longest_span || day.earliest_call > first_call + longest_span)
            refuse(part, "lies too long after the first day");
        if (day.latest_wrap < first_call - longest_span)
            refuse(part, "wraps too long before the first day");
    }
}

} // namespace routing::order
