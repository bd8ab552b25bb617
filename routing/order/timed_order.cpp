#include "routing/order/timed_order.hpp"

#include "routing/order/check_problem.hpp"
#include "routing/order/instance.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <cassert>
#include <tuple>
#include <utility>

namespace routing::order {
namespace {

/// The move to a stop and what the stop asks for.
struct Step {
    Time packing = 0; ///< at the stop before
    Time travel = 0;  ///< of a varying leg the least
    const Departures* departures = nullptr;
    Time setup = 0;
    Time service = 0;
    std::vector<Span> windows; ///< of a visit's start, or of a meal's where hours bind
    const MealRule* meal = nullptr;
    bool hours = false; ///< the meal point's hours bind
};

/// One day of the order; `first` and `count` say where its stops are.
struct DayOrder {
    std::uint32_t day = 0;
    std::size_t first = 0;
    std::size_t count = 0;
    Time earliest_call = 0;
    Time latest_wrap = 0;
    std::vector<MealRule> meals;
    std::vector<Step> steps; ///< to the second stop, third, ...
    std::uint32_t not_taken = 0;
    bool idle = false;
    bool off = false;
};

/// How a day may go: when called, when wrapped, which meals missed, how the varying legs are driven.
struct Choice {
    Time call = 0;
    Time wrap = 0;
    std::uint32_t missed = 0;
    Time travel = 0;                     ///< on varying legs
    std::vector<std::uint32_t> passages; ///< of the varying legs, in order
    bool late = false;                   ///< a day without visits that is too late for an end which is not the nearest
};

/// Part of a day, to the end of some stop's service.
struct Partial {
    DayClock clock;
    Time travel = 0;
    std::vector<std::uint32_t> passages;
};

bool no_worse(const Partial& a, const Partial& b) {
    return a.clock.ready <= b.clock.ready && a.clock.busy <= b.clock.busy &&
           a.clock.latest_call >= b.clock.latest_call && a.clock.call <= b.clock.call && a.travel <= b.travel;
}

/// Keeps `partial` unless one there is no worse; drops those it makes superfluous.
void keep(std::vector<Partial>& kept, const Partial& partial) {
    if (std::any_of(kept.begin(), kept.end(), [&](const Partial& other) { return no_worse(other, partial); }))
        return;
    std::erase_if(kept, [&](const Partial& other) { return no_worse(partial, other); });
    kept.push_back(partial);
}

/// Each way to drive to the stop of `step`, up to its arrival.
std::vector<Partial> drive(const Partial& before, const Step& step) {
    Partial there = before;
    spend(there.clock, step.packing);
    if (!step.departures) {
        spend(there.clock, step.travel);
        return {there};
    }
    std::vector<Partial> found;
    for (std::uint32_t p = 0; p < step.departures->size(); ++p) {
        const Departure& departure = (*step.departures)[p];
        Partial by = there;
        if (!depart_within(by.clock, departure))
            continue;
        spend(by.clock, departure.seconds);
        by.travel += departure.seconds;
        by.passages.push_back(p);
        found.push_back(std::move(by));
    }
    return found;
}

/// What is to be least: days late for an end they should then not go to, meals missed, the two levels of the economy.
using Spent = std::array<Time, 4>;

class Timing {
public:
    Timing(const Problem& problem, const std::vector<Stop>& stops)
        : problem_(problem), origin_(problem.days.front().earliest_call), varying_(problem, origin_), stops_(stops) {}

    std::optional<TimedOrder> run() {
        if (!is_well_ordered(problem_, stops_) || !lay_out())
            return std::nullopt;
        choose(0, days_.empty() ? 0 : days_.front().earliest_call, {});
        if (!best_)
            return std::nullopt;
        TimedOrder timed;
        for (std::size_t d = 0; d < days_.size(); ++d) {
            go_forward(days_[d], best_choices_[d]);
            go_backward(days_[d], best_choices_[d]);
            for (std::uint32_t m = 0; m < days_[d].meals.size(); ++m)
                if (best_choices_[d].missed >> m & 1U)
                    timed.missed_meals.emplace_back(days_[d].day, m);
            if (!days_[d].off)
                timed.wrap += best_choices_[d].wrap - days_[d].earliest_call;
        }
        for (const Stop& stop : stops_)
            timed.travel += stop.travel_in;
        timed.stops = std::move(stops_);
        return timed;
    }

private:
    bool lay_out();
    Step step_between(const DayOrder& order, const Stop& from, const Stop& to) const;
    std::vector<Choice> choices(const DayOrder& order, Time call) const;
    std::vector<Choice> idle_choices(const DayOrder& order, Time call) const;
    Spent spent_on(const DayOrder& order, const Choice& choice) const;
    void choose(std::size_t number, Time rested, const Spent& so_far);
    void go_forward(const DayOrder& order, const Choice& choice);
    void go_backward(const DayOrder& order, const Choice& choice);
    Instant instant(Time time) const { return origin_ + Seconds{time}; }
    static std::int32_t narrow(Time time) { return static_cast<std::int32_t>(time); }

    const Problem& problem_;
    Instant origin_;
    VaryingLegs varying_;
    std::vector<Stop> stops_;
    std::vector<DayOrder> days_;
    std::vector<Choice> chosen_;
    std::vector<Choice> best_choices_;
    std::optional<Spent> best_;
};

bool Timing::lay_out() {
    for (std::size_t i = 0; i < stops_.size();) {
        DayOrder order;
        order.day = stops_[i].day;
        order.first = i;
        const Day& day = problem_.days[order.day];
        order.earliest_call = since(origin_, day.earliest_call);
        order.latest_wrap = since(origin_, day.latest_wrap);
        for (const Meal& meal : day.meals)
            order.meals.push_back(meal_rule(meal, day, origin_));
        order.not_taken = (1U << day.meals.size()) - 1U;
        for (; i < stops_.size() && stops_[i].day == order.day; ++i)
            if (stops_[i].kind == StopKind::meal)
                order.not_taken &= ~(1U << stops_[i].index);
        order.count = i - order.first;
        order.idle = order.count == 2;
        days_.push_back(std::move(order));
    }
    for (DayOrder& order : days_) {
        stops_[order.first].travel_in = 0;
        for (std::size_t i = order.first + 1; i < order.first + order.count; ++i) {
            order.steps.push_back(step_between(order, stops_[i - 1], stops_[i]));
            if (order.steps.back().travel >= no_way)
                return false;
        }
        order.off = order.idle && order.steps.front().travel == 0 && !order.steps.front().departures;
    }
    return true;
}

Step Timing::step_between(const DayOrder& order, const Stop& from, const Stop& to) const {
    Step step;
    step.travel = leg(problem_.travel, from.point, to.point);
    if (from.point != to.point)
        step.departures = varying_.between(from.point, to.point);
    const bool set_up_before =
        from.kind == StopKind::visit || (from.kind == StopKind::start && problem_.days[order.day].set_up_at_start);
    const bool keeps_set_up = set_up_before && to.kind == StopKind::visit && from.point == to.point;
    if (from.kind == StopKind::visit && !keeps_set_up)
        step.packing = problem_.visits[from.index].options[from.option].pack.count();
    else if (from.kind == StopKind::start && !keeps_set_up &&
             !(to.kind == StopKind::end && step.travel == 0 && !step.departures))
        step.packing = problem_.days[order.day].pack_at_start.count();
    if (to.kind == StopKind::visit) {
        const Option& option = problem_.visits[to.index].options[to.option];
        step.setup = keeps_set_up ? 0 : option.setup.count();
        step.service = option.service.count();
        for (const TimeWindow& window : option.windows)
            step.windows.push_back({since(origin_, window.earliest), since(origin_, window.latest)});
    } else if (to.kind == StopKind::meal) {
        step.meal = &order.meals[to.index];
        step.service = step.meal->service;
        const Meal& meal = problem_.days[order.day].meals[to.index];
        const bool carried = meal.anywhere && from.point == to.point;
        if (const auto starts = carried ? std::nullopt : open_starts(meal, *step.meal, to.point, origin_)) {
            step.hours = true;
            step.windows = *starts;
        }
    }
    return step;
}

/// Every way to go through a day that may turn out best, given the earliest call.
std::vector<Choice> Timing::choices(const DayOrder& order, Time call) const {
    if (order.idle)
        return idle_choices(order, call);
    std::vector<Partial> partials{{call_at(call, order.latest_wrap), 0, {}}};
    for (const Step& step : order.steps) {
        std::vector<Partial> grown;
        for (const Partial& before : partials)
            for (Partial& there : drive(before, step)) {
                spend(there.clock, step.setup);
                if (step.meal && !step.hours) {
                    if (take_meal(there.clock, *step.meal))
                        keep(grown, there);
                    continue;
                }
                if (step.windows.empty() && &step == &order.steps.back())
                    keep(grown, there);
                for (const Span& window : step.windows) {
                    Partial served = there;
                    if (!start_within(served.clock, window.earliest, window.latest))
                        continue;
                    if (step.meal && !take_meal(served.clock, *step.meal))
                        continue;
                    if (!step.meal)
                        spend(served.clock, step.service);
                    keep(grown, served);
                }
            }
        partials = std::move(grown);
    }
    std::vector<Choice> found;
    for (const Partial& whole : partials)
        wrap_up(whole.clock, order.not_taken, order.not_taken, order.meals, order.latest_wrap, [&](const WrapUp& up) {
            found.push_back({up.clock.call, up.clock.ready, up.missed, whole.travel, whole.passages});
        });
    return found;
}

std::vector<Choice> Timing::idle_choices(const DayOrder& order, Time call) const {
    const Step& step = order.steps.front();
    const std::vector<Point>& ends = problem_.days[order.day].ends;
    const bool nearest = std::all_of(ends.begin(), ends.end(), [&](Point end) {
        return step.travel <= leg(problem_.travel, stops_[order.first].point, end);
    });
    std::vector<Choice> found;
    for (const Partial& home : drive({call_at(call, no_limit), 0, {}}, step)) {
        const bool late = !order.off && !nearest && home.clock.ready > order.latest_wrap;
        found.push_back({call, home.clock.ready, 0, home.travel, home.passages, late});
    }
    return found;
}

Spent Timing::spent_on(const DayOrder& order, const Choice& choice) const {
    const Time wrap = order.off ? 0 : choice.wrap - order.earliest_call;
    const bool travel_first = problem_.economy == Economy::travel;
    return {choice.late ? 1 : 0, std::popcount(choice.missed), travel_first ? choice.travel : wrap,
            travel_first ? wrap : choice.travel};
}

void Timing::choose(std::size_t number, Time rested, const Spent& so_far) {
    if (best_ && so_far >= *best_)
        return;
    if (number == days_.size()) {
        best_ = so_far;
        best_choices_ = chosen_;
        return;
    }
    const DayOrder& order = days_[number];
    const bool running = problem_.days[order.day].called_at.has_value();
    const Time call = running ? order.earliest_call : std::max(order.earliest_call, rested);
    std::vector<Choice> found = choices(order, call);
    std::stable_sort(found.begin(), found.end(), [&](const Choice& a, const Choice& b) {
        return std::tuple(spent_on(order, a), a.call) < std::tuple(spent_on(order, b), b.call);
    });
    std::optional<Time> earliest_wrap; // who spends more must at least wrap earlier, for the next day's sake
    for (const Choice& choice : found) {
        if (earliest_wrap && *earliest_wrap <= choice.wrap)
            continue;
        earliest_wrap = choice.wrap;
        Spent spent = spent_on(order, choice);
        for (std::size_t level = 0; level < spent.size(); ++level)
            spent[level] += so_far[level];
        chosen_.push_back(choice);
        choose(number + 1, order.off ? call : choice.wrap + problem_.turnaround.count(), spent);
        chosen_.pop_back();
    }
}

void Timing::go_forward(const DayOrder& order, const Choice& choice) {
    Stop* stop = &stops_[order.first];
    auto passage = choice.passages.begin();
    Time now = choice.call;
    stop->arrive = stop->start = stop->end = stop->leave = instant(now);
    for (const Step& step : order.steps) {
        Stop& before = *stop++;
        now += step.packing;
        Time travel = step.travel;
        if (step.departures) {
            travel = (*step.departures)[*passage++].seconds;
            now = earliest_departure(*step.departures, now, travel);
        }
        before.leave = instant(now);
        now += travel;
        stop->travel_in = narrow(travel);
        stop->arrive = instant(now);
        now += step.setup;
        if (step.meal)
            now = std::max(now, step.meal->earliest);
        for (const Span& window : step.windows)
            if (now <= window.latest) {
                now = std::max(now, window.earliest);
                break;
            }
        stop->start = instant(now);
        now += step.service;
        stop->end = stop->leave = instant(now);
    }
    assert(stop->arrive == instant(choice.wrap));
    if (order.idle)
        return;
    // The call waits until the first stop need not, or till the last passage that takes no longer.
    const Step& step = order.steps.front();
    Stop& start = stops_[order.first];
    Stop& first = stops_[order.first + 1];
    const Time ready = since(origin_, first.start) - step.setup;
    const Time leave =
        step.departures ? latest_departure(*step.departures, ready, first.travel_in) : ready - first.travel_in;
    start.leave = instant(leave);
    first.arrive = start.leave + Seconds{first.travel_in};
    start.arrive = start.start = start.end = start.leave - Seconds{step.packing};
}

void Timing::go_backward(const DayOrder& order, const Choice& choice) {
    const Time call = since(origin_, stops_[order.first].leave);
    std::size_t i = order.first + order.count - 1;
    stops_[i].leave_by = instant(order.latest_wrap);
    stops_[i].slack = stops_[i].leave_by - stops_[i].arrive;
    Time latest_arrival = order.latest_wrap;
    if (!order.idle)
        for (std::uint32_t m = 0; m < order.meals.size(); ++m)
            if ((order.not_taken & ~choice.missed) >> m & 1U && order.meals[m].free_call > call)
                latest_arrival = std::min(latest_arrival, order.meals[m].free_wrap);
    for (std::size_t s = order.steps.size(); s-- > 0;) {
        const Step& step = order.steps[s];
        Stop& before = stops_[--i];
        const Time travel = stops_[i + 1].travel_in;
        Time leave_by = latest_arrival - travel;
        if (step.departures)
            leave_by = std::min(leave_by, end_of_passage(*step.departures, since(origin_, before.leave), travel));
        before.leave_by = instant(leave_by);
        before.slack = before.leave_by - before.leave;
        if (s == 0)
            break;
        const Step& own = order.steps[s - 1]; // what the stop before asks for itself
        Time latest_start = leave_by - step.packing - own.service;
        if (own.meal) {
            latest_start = std::min(latest_start, own.meal->latest_start);
            if (own.meal->within_of_call < no_limit)
                latest_start = std::min(latest_start, call + own.meal->within_of_call);
        }
        const Time start = since(origin_, before.start);
        for (auto window = own.windows.rbegin(); window != own.windows.rend(); ++window)
            if (window->earliest <= start) {
                latest_start = std::min(latest_start, window->latest);
                break;
            }
        latest_arrival = latest_start - own.setup;
    }
}

} // namespace

std::optional<TimedOrder> time_order(const Problem& problem, const std::vector<Stop>& stops) {
    return Timing(problem, stops).run();
}

Score score_of(const Problem& problem, const TimedOrder& timed) {
    Score score;
    for (const Stop& stop : timed.stops)
        if (stop.kind == StopKind::visit) {
            score.must_weight += problem.visits[stop.index].must_weight;
            score.worth += problem.visits[stop.index].worth;
        }
    score.meals = -static_cast<std::int64_t>(timed.missed_meals.size());
    score.economy = -timed.travel;
    score.last = -timed.wrap;
    if (problem.economy == Economy::wrap)
        std::swap(score.economy, score.last);
    return score;
}

bool time_stops(const Problem& problem, std::vector<Stop>& stops) {
    check_problem(problem);
    std::optional<TimedOrder> timed = time_order(problem, stops);
    if (!timed)
        return false;
    stops = std::move(timed->stops);
    return true;
}

} // namespace routing::order
