#include "check_solution.hpp"

#include <algorithm>
#include <optional>
#include <set>

namespace order_tests {

using namespace routing::order;

namespace {

bool contains(const std::vector<Point>& points, Point point) {
    return std::find(points.begin(), points.end(), point) != points.end();
}

class Checker {
public:
    Checker(const Problem& problem, const Solution& solution) : problem_(problem), solution_(solution) {}

    std::vector<std::string> run() {
        std::size_t next = 0;
        for (std::uint32_t d = 0; d < problem_.days.size(); ++d) {
            std::vector<Stop> stops;
            for (; next < solution_.stops.size() && solution_.stops[next].day == d; ++next)
                stops.push_back(solution_.stops[next]);
            if (problem_.days[d].start)
                place_ = problem_.days[d].start;
            check_day(d, stops);
        }
        expect(next == solution_.stops.size(), "stops are in the order of days");
        check_totals();
        return faults_;
    }

private:
    void expect(bool holds, const std::string& what) {
        if (!holds)
            faults_.push_back("not so: " + what);
    }

    std::int64_t leg(Point from, Point to) const { return from == to ? 0 : problem_.travel(from, to); }
    const VaryingLeg* varying(Point from, Point to) const {
        for (const VaryingLeg& leg : problem_.varying)
            if (leg.from == from && leg.to == to)
                return &leg;
        return nullptr;
    }
    /// Leaving at that very second.
    std::int64_t travel_at(Point from, Point to, Instant leave) const {
        const VaryingLeg* varies = varying(from, to);
        if (!varies)
            return leg(from, to);
        std::int64_t travel = TravelMatrix::unreachable;
        for (const Passage& passage : varies->passages)
            if (passage.departure.earliest <= leave && leave <= passage.departure.latest)
                travel = std::min<std::int64_t>(travel, passage.seconds);
        return travel;
    }
    bool takes_no_time(Point from, Point to) const { return leg(from, to) == 0 && !varying(from, to); }
    const Option& option(const Stop& stop) const { return problem_.visits.at(stop.index).options.at(stop.option); }
    const Meal& meal(const Stop& stop) const { return problem_.days.at(stop.day).meals.at(stop.index); }
    bool same_set_up(const Stop& before, const Stop& stop) const {
        const bool stands = before.kind == StopKind::visit ||
                            (before.kind == StopKind::start && problem_.days.at(before.day).set_up_at_start);
        return stands && stop.kind == StopKind::visit && before.point == stop.point;
    }
    Seconds packing(const Stop& stop, const Stop& next) const {
        if (same_set_up(stop, next))
            return Seconds{0};
        if (stop.kind == StopKind::start)
            return next.kind == StopKind::end && takes_no_time(stop.point, next.point)
                       ? Seconds{0}
                       : problem_.days.at(stop.day).pack_at_start;
        return stop.kind == StopKind::visit ? option(stop).pack : Seconds{0};
    }
    Seconds setting_up(const Stop& before, const Stop& stop) const {
        return stop.kind == StopKind::visit && !same_set_up(before, stop) ? option(stop).setup : Seconds{0};
    }
    Seconds service(const Stop& stop) const {
        if (stop.kind == StopKind::visit)
            return option(stop).service;
        return stop.kind == StopKind::meal ? meal(stop).service : Seconds{0};
    }

    void check_day(std::uint32_t d, const std::vector<Stop>& stops) {
        const Day& day = problem_.days[d];
        const std::string name = "day " + std::to_string(d) + ": ";
        if (stops.empty()) {
            expect(!place_ && day.ends.empty(), name + "has stops");
            return;
        }
        expect(stops.size() >= 2 && stops.front().kind == StopKind::start && stops.back().kind == StopKind::end,
               name + "runs from a start to an end");
        if (stops.size() < 2)
            return;
        expect(!place_ || stops.front().point == *place_, name + "starts where the crew is");
        expect(day.ends.empty() || contains(day.ends, stops.back().point), name + "ends at one of its ends");
        expect(!day.ends.empty() || stops.back().point == stops[stops.size() - 2].point,
               name + "ends at its last stop");
        check_order(name, d, stops);
        check_times(name, d, stops);
        check_leave_by(name, d, stops);
        place_ = stops.back().point;
    }

    void check_order(const std::string& name, std::uint32_t d, const std::vector<Stop>& stops) {
        std::set<Point> meal_points;
        Point at = stops.front().point;
        std::int64_t last_meal = -1;
        for (std::size_t i = 1; i + 1 < stops.size(); ++i) {
            const Stop& stop = stops[i];
            if (stop.kind == StopKind::visit) {
                expect(done_.insert(stop.index).second, name + "a visit is done once");
                expect(option(stop).point == stop.point, name + "a visit is where its option is");
                for (const std::uint32_t before : problem_.visits[stop.index].after)
                    expect(done_.count(before) == 1, name + "a visit comes after those it must");
                meal_points.clear();
                at = stop.point;
            } else {
                expect(stop.kind == StopKind::meal, name + "only visits and meals lie inside a day");
                expect(last_meal < stop.index, name + "meals are in order");
                last_meal = stop.index;
                taken_.insert({d, stop.index});
                const bool carried = meal(stop).anywhere && stop.point == stops[i - 1].point;
                expect(carried || contains(meal(stop).candidates, stop.point), name + "a meal is where it may be had");
                if (!(carried && stop.point == at && meal_points.empty()))
                    meal_points.insert(stop.point);
                expect(meal_points.size() <= 1, name + "one meal point between two visits");
            }
        }
    }

    void check_times(const std::string& name, std::uint32_t d, const std::vector<Stop>& stops) {
        const Day& day = problem_.days[d];
        const Instant call = stops.front().leave;
        const Instant wrap = stops.back().arrive;
        const bool idle = stops.size() == 2;
        const bool off = idle && takes_no_time(stops.front().point, stops.back().point);
        const Instant limits_from = day.called_at.value_or(call);
        expect(call >= day.earliest_call, name + "is not called too early");
        expect(idle || wrap <= day.latest_wrap, name + "wraps in time");
        expect(off || day.called_at || !last_wrap_ || call >= *last_wrap_ + problem_.turnaround, name + "turnaround");
        for (std::size_t i = 1; i < stops.size(); ++i) {
            const Stop& before = stops[i - 1];
            const Stop& stop = stops[i];
            expect(leg(before.point, stop.point) < TravelMatrix::unreachable, name + "there is a way");
            expect(stop.travel_in == travel_at(before.point, stop.point, before.leave), name + "travel is what it is");
            check_departure(name, before, stop, i == 1 && !idle);
            expect(stop.arrive == before.leave + Seconds{stop.travel_in}, name + "arrives when it gets there");
            expect(stop.end == stop.start + service(stop), name + "service takes its time");
            expect(stop.start == earliest_start(before, stop), name + "starts as early as it may");
            if (stop.kind == StopKind::meal) {
                expect(stop.end <= meal(stop).within.latest, name + "a meal is inside its window");
                expect(!meal(stop).within_of_call || stop.start <= limits_from + *meal(stop).within_of_call,
                       name + "a meal is within so long of the call");
            }
            travel_ += stop.travel_in;
        }
        if (!idle && !varying(stops[0].point, stops[1].point))
            expect(stops[1].start == stops[1].arrive + setting_up(stops[0], stops[1]), name + "no wait at first");
        for (std::uint32_t m = 0; m < day.meals.size() && !idle; ++m) {
            const Meal& rule = day.meals[m];
            const bool free =
                wrap + rule.service <= rule.within.latest || rule.within.earliest + rule.service <= limits_from;
            if (!free && taken_.count({d, m}) == 0)
                missed_.emplace_back(d, m);
        }
        if (off)
            return;
        wrap_ += (wrap - day.earliest_call).count();
        last_wrap_ = wrap;
    }

    /// No departure that is earlier (`first`: later) and in time takes as little travel.
    void check_departure(const std::string& name, const Stop& before, const Stop& stop, bool first) {
        const Instant ready = before.end + packing(before, stop);
        if (!varying(before.point, stop.point) || first)
            expect(before.leave == ready, name + "leaves when packed");
        else
            expect(before.leave >= ready, name + "leaves once packed");
        if (!varying(before.point, stop.point))
            return;
        if (!first) {
            for (Instant leave = ready; leave < before.leave; leave += Seconds{1})
                expect(travel_at(before.point, stop.point, leave) > stop.travel_in, name + "leaves as soon as it may");
            return;
        }
        const Instant latest = stop.start - setting_up(before, stop) - Seconds{stop.travel_in};
        expect(before.leave <= latest, name + "is in time at first");
        for (Instant leave = before.leave + Seconds{1}; leave <= latest; leave += Seconds{1})
            expect(travel_at(before.point, stop.point, leave) > stop.travel_in, name + "is called as late as can be");
    }

    /// The hours that bind a meal stop.
    const MealHours* hours(const Stop& before, const Stop& stop) {
        if (meal(stop).anywhere && before.point == stop.point)
            return nullptr;
        for (const MealHours& known : meal(stop).hours)
            if (known.point == stop.point)
                return &known;
        return nullptr;
    }

    Instant earliest_start(const Stop& before, const Stop& stop) {
        Instant ready = stop.arrive + setting_up(before, stop);
        if (stop.kind == StopKind::meal) {
            ready = std::max(ready, meal(stop).within.earliest);
            if (const MealHours* known = hours(before, stop)) {
                for (const TimeWindow& window : known->open)
                    if (std::max(ready, window.earliest) + meal(stop).service <= window.latest)
                        return std::max(ready, window.earliest);
                return ready - Seconds{1}; // shut
            }
        }
        if (stop.kind != StopKind::visit)
            return ready;
        for (const TimeWindow& window : option(stop).windows)
            if (ready <= window.latest)
                return std::max(ready, window.earliest);
        return ready - Seconds{1}; // no window left
    }

    /// True when a crew that leaves stop i at `when` can't go as it is told any more, by the passage it was to take.
    bool passage_is_over(const std::vector<Stop>& stops, std::size_t i, Instant when) const {
        const VaryingLeg* leg =
            stops[i].point == stops[i + 1].point ? nullptr : varying(stops[i].point, stops[i + 1].point);
        return leg && std::none_of(leg->passages.begin(), leg->passages.end(), [&](const Passage& passage) {
                   return passage.seconds == stops[i + 1].travel_in && passage.departure.earliest <= stops[i].leave &&
                          when <= passage.departure.latest;
               });
    }

    /// Leaving stop `from` at `when`, not before it is planned: does all after it still go as planned, by the ways
    /// planned?
    bool goes_on(std::uint32_t d, const std::vector<Stop>& stops, std::size_t from, Instant when) {
        const Day& day = problem_.days[d];
        const Instant call = day.called_at.value_or(stops.front().leave);
        for (std::size_t i = from + 1; i < stops.size(); ++i) {
            const Stop& stop = stops[i];
            if (passage_is_over(stops, i - 1, when))
                return false;
            when += Seconds{stop.travel_in} + setting_up(stops[i - 1], stop);
            if (stop.kind == StopKind::meal) {
                when = std::max(when, meal(stop).within.earliest);
                if (const MealHours* known = hours(stops[i - 1], stop)) {
                    TimeWindow planned{};
                    for (const TimeWindow& window : known->open)
                        if (window.earliest <= stop.start && stop.end <= window.latest)
                            planned = window;
                    when = std::max(when, planned.earliest);
                    if (when + meal(stop).service > planned.latest)
                        return false;
                }
                if (when + meal(stop).service > meal(stop).within.latest)
                    return false;
                if (meal(stop).within_of_call && when > call + *meal(stop).within_of_call)
                    return false;
            } else if (stop.kind == StopKind::visit) {
                TimeWindow planned{};
                for (const TimeWindow& window : option(stop).windows)
                    if (window.earliest <= stop.start && stop.start <= window.latest)
                        planned = window;
                when = std::max(when, planned.earliest);
                if (when > planned.latest)
                    return false;
            }
            when += service(stop);
            if (i + 1 < stops.size())
                when += packing(stop, stops[i + 1]);
        }
        for (std::uint32_t m = 0; m < day.meals.size() && stops.size() > 2; ++m) {
            const Meal& rule = day.meals[m];
            const bool was_free = stops.back().arrive + rule.service <= rule.within.latest;
            const bool is_free =
                when + rule.service <= rule.within.latest || rule.within.earliest + rule.service <= call;
            if (taken_.count({d, m}) == 0 && was_free && !is_free)
                return false;
        }
        return when <= day.latest_wrap;
    }

    void check_leave_by(const std::string& name, std::uint32_t d, const std::vector<Stop>& stops) {
        for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
            expect(stops[i].slack == stops[i].leave_by - stops[i].leave, name + "slack is what is left");
            expect(stops.size() == 2 || stops[i].slack >= Seconds{0}, name + "slack is not negative");
            if (stops.size() == 2 && stops[1].arrive > problem_.days[d].latest_wrap)
                continue; // home too late however
            const Instant leave_by = stops[i].leave_by, later = leave_by + Seconds{1};
            expect(goes_on(d, stops, i, leave_by), name + "leave-by is soon enough");
            expect(!goes_on(d, stops, i, later), name + "leave-by is as late as can be");
        }
        expect(stops.back().leave_by == problem_.days[d].latest_wrap, name + "the end's leave-by is the latest wrap");
        expect(stops.back().slack == problem_.days[d].latest_wrap - stops.back().arrive, name + "slack at the end");
    }

    void check_totals() {
        Score score;
        std::vector<std::uint32_t> dropped;
        for (std::uint32_t v = 0; v < problem_.visits.size(); ++v) {
            if (done_.count(v) == 0) {
                dropped.push_back(v);
                continue;
            }
            score.must_weight += problem_.visits[v].must_weight;
            score.worth += problem_.visits[v].worth;
        }
        score.meals = -static_cast<std::int64_t>(missed_.size());
        const bool travel_first = problem_.economy == Economy::travel;
        score.economy = -(travel_first ? travel_ : wrap_);
        score.last = -(travel_first ? wrap_ : travel_);
        expect(score == solution_.score, "the score is what the stops say");
        expect(dropped == solution_.dropped, "what is not done is dropped");
        expect(missed_ == solution_.missed_meals, "missed meals are named");
        expect(solution_.bound >= solution_.score, "the bound is no worse than the score");
        expect((solution_.proof == Proof::optimal) == (solution_.bound == solution_.score), "proof and bound agree");
    }

    const Problem& problem_;
    const Solution& solution_;
    std::vector<std::string> faults_;
    std::optional<Point> place_;
    std::optional<Instant> last_wrap_;
    std::set<std::uint32_t> done_;
    std::set<std::pair<std::uint32_t, std::uint32_t>> taken_;
    std::vector<std::pair<std::uint32_t, std::uint32_t>> missed_;
    std::int64_t travel_ = 0;
    std::int64_t wrap_ = 0;
};

} // namespace

std::vector<std::string> faults_in(const Problem& problem, const Solution& solution) {
    return Checker(problem, solution).run();
}

} // namespace order_tests
