#include "routing/order/timed_order.hpp"

#include "routing/order/check_problem.hpp"
#include "routing/order/instance.hpp"

#include <algorithm>
#include <bit>
#include <cassert>
#include <tuple>

namespace routing::order {
namespace {

/// The move to a stop and what the stop asks for.
struct Step {
    Time packing = 0; ///< at the stop before
    Time travel = 0;
    Time setup = 0;
    Time service = 0;
    std::vector<Span> windows; ///< of a visit's start
    const MealRule* meal = nullptr;
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

/// How a day may go: when called, when wrapped, which meals missed.
struct Choice {
    Time call = 0;
    Time wrap = 0;
    std::uint32_t missed = 0;
};

class Timing {
public:
    Timing(const Problem& problem, const std::vector<Stop>& stops)
        : problem_(problem), origin_(problem.days.front().earliest_call), stops_(stops) {}

    std::optional<TimedOrder> run() {
        if (!is_well_ordered(problem_, stops_) || !lay_out())
            return std::nullopt;
        choose(0, days_.empty() ? 0 : days_.front().earliest_call, 0, 0);
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
    void choose(std::size_t number, Time rested, int missed, Time wrap);
    void go_forward(const DayOrder& order, const Choice& choice);
    void go_backward(const DayOrder& order, const Choice& choice);
    Instant instant(Time time) const { return origin_ + Seconds{time}; }

    const Problem& problem_;
    Instant origin_;
    std::vector<Stop> stops_;
    std::vector<DayOrder> days_;
    std::vector<Choice> chosen_;
    std::vector<Choice> best_choices_;
    std::optional<std::pair<int, Time>> best_; ///< meals missed, wraps
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
            const Time travel = order.steps.back().travel;
            if (travel >= no_way)
                return false;
            stops_[i].travel_in = static_cast<std::int32_t>(travel);
        }
        order.off = order.idle && order.steps.front().travel == 0;
    }
    return true;
}

Step Timing::step_between(const DayOrder& order, const Stop& from, const Stop& to) const {
    Step step;
    step.travel = leg(problem_.travel, from.point, to.point);
    const bool set_up_before =
        from.kind == StopKind::visit || (from.kind == StopKind::start && problem_.days[order.day].set_up_at_start);
    const bool keeps_set_up = set_up_before && to.kind == StopKind::visit && from.point == to.point;
    if (from.kind == StopKind::visit && !keeps_set_up)
        step.packing = problem_.visits[from.index].options[from.option].pack.count();
    else if (from.kind == StopKind::start && !keeps_set_up && !(to.kind == StopKind::end && step.travel == 0))
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
    }
    return step;
}

/// Every way to go through a day that may turn out best, given the earliest call.
std::vector<Choice> Timing::choices(const DayOrder& order, Time call) const {
    if (order.idle)
        return {{call, call + order.steps.front().packing + order.steps.front().travel, 0}};
    std::vector<DayClock> clocks{call_at(call, order.latest_wrap)};
    for (const Step& step : order.steps) {
        std::vector<DayClock> grown;
        const auto keep = [&](const DayClock& clock) {
            const auto no_worse = [](const DayClock& a, const DayClock& b) {
                return a.ready <= b.ready && a.busy <= b.busy && a.latest_call >= b.latest_call && a.call <= b.call;
            };
            if (std::any_of(grown.begin(), grown.end(), [&](const DayClock& other) { return no_worse(other, clock); }))
                return;
            std::erase_if(grown, [&](const DayClock& other) { return no_worse(clock, other); });
            grown.push_back(clock);
        };
        for (DayClock clock : clocks) {
            spend(clock, step.packing + step.travel + step.setup);
            if (step.meal) {
                if (take_meal(clock, *step.meal))
                    keep(clock);
                continue;
            }
            if (step.windows.empty() && &step == &order.steps.back())
                keep(clock);
            for (const Span& window : step.windows) {
                DayClock served = clock;
                if (!start_within(served, window.earliest, window.latest))
                    continue;
                spend(served, step.service);
                keep(served);
            }
        }
        clocks = std::move(grown);
    }
    std::vector<Choice> found;
    for (const DayClock& clock : clocks)
        wrap_up(clock, order.not_taken, order.not_taken, order.meals, order.latest_wrap, [&](const WrapUp& up) {
            found.push_back({up.clock.call, up.clock.ready, up.missed});
        });
    std::sort(found.begin(), found.end(), [](const Choice& a, const Choice& b) {
        return std::make_tuple(std::popcount(a.missed), a.wrap, a.call) <
               std::make_tuple(std::popcount(b.missed), b.wrap, b.call);
    });
    return found;
}

void Timing::choose(std::size_t number, Time rested, int missed, Time wrap) {
    if (best_ && std::pair(missed, wrap) >= *best_)
        return;
    if (number == days_.size()) {
        best_ = {missed, wrap};
        best_choices_ = chosen_;
        return;
    }
    const DayOrder& order = days_[number];
    const bool running = problem_.days[order.day].called_at.has_value();
    const Time call = running ? order.earliest_call : std::max(order.earliest_call, rested);
    std::optional<std::pair<int, Time>> before; // of equally many meals missed only the earliest wrap matters
    for (const Choice& choice : choices(order, call)) {
        const int misses = std::popcount(choice.missed);
        if (before && before->first <= misses && before->second <= choice.wrap)
            continue;
        before = {misses, choice.wrap};
        chosen_.push_back(choice);
        choose(number + 1, order.off ? call : choice.wrap + problem_.turnaround.count(), missed + misses,
               wrap + (order.off ? 0 : choice.wrap - order.earliest_call));
        chosen_.pop_back();
    }
}

void Timing::go_forward(const DayOrder& order, const Choice& choice) {
    Stop* stop = &stops_[order.first];
    Time now = choice.call;
    stop->arrive = stop->start = stop->end = stop->leave = instant(now);
    for (const Step& step : order.steps) {
        Stop& before = *stop++;
        now += step.packing;
        before.leave = instant(now);
        now += step.travel;
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
    // The call waits until the first stop need not.
    Stop& start = stops_[order.first];
    Stop& first = stops_[order.first + 1];
    first.arrive = first.start - Seconds{order.steps.front().setup};
    start.leave = first.arrive - Seconds{order.steps.front().travel};
    start.arrive = start.start = start.end = start.leave - Seconds{order.steps.front().packing};
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
        const Time leave_by = latest_arrival - step.travel;
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

bool time_stops(const Problem& problem, std::vector<Stop>& stops) {
    check_problem(problem);
    std::optional<TimedOrder> timed = time_order(problem, stops);
    if (!timed)
        return false;
    stops = std::move(timed->stops);
    return true;
}

} // namespace routing::order
