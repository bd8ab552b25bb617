#include "brute_force.hpp"

#include <algorithm>
#include <map>
#include <tuple>
#include <utility>
#include <vector>

namespace order_tests {

using namespace routing::order;

namespace {

/// After some days: what has been done, where the night is spent (-1: nowhere), when the crew last wrapped.
using Eve = std::tuple<std::uint64_t, std::int64_t, Instant>;
/// Meals missed, first economy level, second; smaller is better.
using Spent = std::tuple<std::int64_t, std::int64_t, std::int64_t>;
using Eves = std::map<Eve, Spent>;

constexpr std::int64_t nowhere = -1;

/// Leaving at `leave`, the crew drives so long.
struct Drive {
    Instant leave;
    std::int64_t travel = 0;
};

/// When to leave for where, second by second. A departure is left out only when an earlier one takes no longer (the
/// crew waits where it arrives instead) or the next second arrives at the same time.
class Roads {
public:
    explicit Roads(const Problem& problem) : problem_(problem) {
        for (const VaryingLeg& leg : problem.varying)
            varying_[{leg.from, leg.to}] = &leg;
    }

    const std::vector<Drive>& drives(std::int64_t from, std::int64_t to, Instant ready) {
        const auto [known, is_new] = known_.try_emplace({from, to, ready});
        if (is_new)
            known->second = find(from, to, ready);
        return known->second;
    }

    /// By the matrix.
    std::int64_t least(std::int64_t from, std::int64_t to) const {
        if (from == nowhere || from == to)
            return 0;
        return problem_.travel(static_cast<Point>(from), static_cast<Point>(to));
    }
    bool takes_no_time(std::int64_t from, std::int64_t to) const {
        return least(from, to) == 0 && (from == to || from == nowhere || varying_.count({from, to}) == 0);
    }

private:
    static std::int64_t travel_at(const VaryingLeg& leg, Instant leave) {
        std::int64_t travel = TravelMatrix::unreachable;
        for (const Passage& passage : leg.passages)
            if (passage.departure.earliest <= leave && leave <= passage.departure.latest)
                travel = std::min<std::int64_t>(travel, passage.seconds);
        return travel;
    }

    std::vector<Drive> find(std::int64_t from, std::int64_t to, Instant ready) const {
        const std::int64_t constant = least(from, to);
        if (constant >= TravelMatrix::unreachable)
            return {};
        const auto varying = from == to ? varying_.end() : varying_.find({from, to});
        if (varying == varying_.end())
            return {{ready, constant}};
        const VaryingLeg& leg = *varying->second;
        Instant until = ready; // nothing opens any more
        for (const Passage& passage : leg.passages)
            if (passage.departure.earliest > until)
                until = passage.departure.earliest;
        for (const Passage& passage : leg.passages)
            if (passage.departure.latest > until && passage.departure.latest < Instant::max())
                until = passage.departure.latest;
        std::vector<Drive> found;
        std::int64_t least_so_far = TravelMatrix::unreachable;
        for (Instant leave = ready; leave <= until; leave += Seconds{1}) {
            const std::int64_t travel = travel_at(leg, leave);
            if (travel < least_so_far && travel_at(leg, leave + Seconds{1}) >= travel)
                found.push_back({leave, travel});
            least_so_far = std::min(least_so_far, travel);
        }
        return found;
    }

    const Problem& problem_;
    std::map<std::pair<std::int64_t, std::int64_t>, const VaryingLeg*> varying_;
    std::map<std::tuple<std::int64_t, std::int64_t, Instant>, std::vector<Drive>> known_;
};

class OneDay {
public:
    OneDay(const Problem& problem, std::size_t number, Roads& roads, Eves& after)
        : problem_(problem), day_(problem.days[number]), roads_(roads), after_(after) {}

    void try_all(const Eve& eve, const Spent& spent) {
        std::tie(done_, place_, last_wrap_) = eve;
        spent_ = spent;
        done_before_ = done_;
        if (day_.start)
            place_ = *day_.start;
        Instant earliest = day_.earliest_call;
        if (!day_.called_at)
            earliest = std::max(earliest, last_wrap_ + problem_.turnaround);
        try_idle(earliest);
        const bool counts_from_call = !day_.called_at && !day_.meals.empty();
        for (Instant call = earliest; call <= (counts_from_call ? day_.latest_wrap : earliest); call += Seconds{1}) {
            call_ = day_.called_at.value_or(call);
            go({.point = place_,
                .base = place_,
                .now = call,
                .pack = day_.pack_at_start,
                .visited = day_.set_up_at_start && day_.start.has_value()});
        }
    }

private:
    struct State {
        std::int64_t point = nowhere;
        std::int64_t base = nowhere;  ///< last stop that was no meal
        Instant now{};                ///< end of what was last done
        Seconds pack{0};              ///< still to be done before going anywhere
        bool visited = false;         ///< the last thing was a visit, or the crew starts set up
        std::int64_t meal_point = -1; ///< of this gap
        std::size_t next_meal = 0;
        std::uint32_t eaten = 0;
        std::int64_t travel = 0;
    };

    void go(const State& state) {
        for (std::size_t m = state.next_meal; m < day_.meals.size(); ++m)
            eat_anywhere_it_can_be(state, m);
        for (std::uint32_t v = 0; v < problem_.visits.size(); ++v)
            for (const Option& option : problem_.visits[v].options)
                visit(state, v, option);
        if (done_ != done_before_)
            end(state);
    }

    void eat_anywhere_it_can_be(const State& state, std::size_t m) {
        const Meal& meal = day_.meals[m];
        if (meal.anywhere)
            eat(state, m, state.point, state.meal_point, true);
        for (const Point candidate : meal.candidates)
            if (state.meal_point < 0 || state.meal_point == candidate)
                eat(state, m, candidate, candidate, false);
    }

    static const MealHours* hours_of(const Meal& meal, std::int64_t where) {
        for (const MealHours& hours : meal.hours)
            if (hours.point == where)
                return &hours;
        return nullptr;
    }

    /// The first start from `ready` on with the whole meal inside the hours.
    static std::optional<Instant> first_start(const Meal& meal, Instant ready, const MealHours* hours) {
        if (!hours)
            return ready;
        for (const TimeWindow& window : hours->open)
            if (const Instant start = std::max(ready, window.earliest); start + meal.service <= window.latest)
                return start;
        return std::nullopt;
    }

    void eat(const State& state, std::size_t m, std::int64_t where, std::int64_t meal_point, bool carried) {
        const Meal& meal = day_.meals[m];
        for (const Drive& drive : roads_.drives(state.point, where, state.now + state.pack)) {
            State next = state;
            const auto start = first_start(meal, std::max(drive.leave + Seconds{drive.travel}, meal.within.earliest),
                                           carried ? nullptr : hours_of(meal, where));
            if (!start || *start + meal.service > meal.within.latest || *start > day_.latest_wrap)
                continue;
            next.now = *start;
            if (meal.within_of_call && next.now > call_ + *meal.within_of_call)
                continue;
            next.now += meal.service;
            next.pack = Seconds{0};
            next.visited = false;
            next.point = where;
            next.meal_point = meal_point;
            next.next_meal = m + 1;
            next.eaten |= 1U << m;
            next.travel += drive.travel;
            go(next);
        }
    }

    void visit(const State& state, std::uint32_t v, const Option& option) {
        if (done_ >> v & 1U)
            return;
        for (const std::uint32_t before : problem_.visits[v].after)
            if (!(done_ >> before & 1U))
                return;
        if (state.visited && state.point == option.point)
            return serve(state, v, option, state.now, 0);
        for (const Drive& drive : roads_.drives(state.point, option.point, state.now + state.pack))
            serve(state, v, option, drive.leave + Seconds{drive.travel} + option.setup, drive.travel);
    }

    void serve(const State& state, std::uint32_t v, const Option& option, Instant ready, std::int64_t travel) {
        State next = state;
        next.now = ready;
        for (const TimeWindow& window : option.windows) {
            if (next.now > window.latest)
                continue;
            next.now = std::max(next.now, window.earliest);
            if (next.now > day_.latest_wrap)
                return;
            next.now += option.service;
            next.pack = option.pack;
            next.visited = true;
            next.point = option.point;
            next.meal_point = -1;
            next.travel += travel;
            done_ |= std::uint64_t{1} << v;
            go(next);
            done_ &= ~(std::uint64_t{1} << v);
            return;
        }
    }

    void end(const State& state) {
        if (day_.ends.empty())
            wrap(state, state.point, state.now + state.pack, 0);
        for (const Point end : day_.ends)
            for (const Drive& drive : roads_.drives(state.point, end, state.now + state.pack))
                wrap(state, end, drive.leave + Seconds{drive.travel}, drive.travel);
    }

    void wrap(const State& state, std::int64_t where, Instant wrap, std::int64_t travel) {
        if (wrap > day_.latest_wrap)
            return;
        std::int64_t missed = 0;
        for (std::size_t m = 0; m < day_.meals.size(); ++m) {
            const Meal& meal = day_.meals[m];
            const bool free = wrap + meal.service <= meal.within.latest || meal.within.earliest + meal.service <= call_;
            missed += !(state.eaten >> m & 1U) && !free ? 1 : 0;
        }
        note(where, wrap, missed, state.travel + travel, (wrap - day_.earliest_call).count());
    }

    void try_idle(Instant earliest) {
        if (place_ == nowhere || day_.ends.empty()) {
            if (day_.ends.empty())
                note(place_, last_wrap_, 0, 0, 0);
            for (const Point end : day_.ends)
                note(end, last_wrap_, 0, 0, 0);
            return;
        }
        std::int64_t nearest = TravelMatrix::unreachable;
        for (const Point end : day_.ends)
            nearest = std::min(nearest, roads_.least(place_, end));
        for (const Point end : day_.ends) {
            if (roads_.takes_no_time(place_, end)) {
                note(end, last_wrap_, 0, 0, 0);
                continue;
            }
            for (const Drive& drive : roads_.drives(place_, end, earliest + day_.pack_at_start)) {
                const Instant home = drive.leave + Seconds{drive.travel};
                if (home <= day_.latest_wrap || roads_.least(place_, end) == nearest)
                    note(end, home, 0, drive.travel, (home - day_.earliest_call).count());
            }
        }
    }

    void note(std::int64_t where, Instant wrap, std::int64_t missed, std::int64_t travel, std::int64_t wrapped) {
        const bool travel_first = problem_.economy == Economy::travel;
        Spent spent = spent_;
        std::get<0>(spent) += missed;
        std::get<1>(spent) += travel_first ? travel : wrapped;
        std::get<2>(spent) += travel_first ? wrapped : travel;
        const auto [known, is_new] = after_.try_emplace({done_, where, wrap}, spent);
        if (!is_new)
            known->second = std::min(known->second, spent);
    }

    const Problem& problem_;
    const Day& day_;
    Roads& roads_;
    Eves& after_;
    std::uint64_t done_ = 0;
    std::uint64_t done_before_ = 0;
    std::int64_t place_ = nowhere;
    Instant last_wrap_{};
    Instant call_{};
    Spent spent_;
};

} // namespace

std::optional<Score> best_by_brute_force(const Problem& problem) {
    const Instant long_ago = problem.days.front().earliest_call - Seconds{1'000'000'000};
    Eves eves{{{0, nowhere, long_ago}, {0, 0, 0}}};
    Roads roads(problem);
    for (std::size_t d = 0; d < problem.days.size(); ++d) {
        Eves after;
        for (const auto& [eve, spent] : eves)
            OneDay(problem, d, roads, after).try_all(eve, spent);
        eves = std::move(after);
    }
    std::optional<Score> best;
    for (const auto& [eve, spent] : eves) {
        Score score;
        for (std::size_t v = 0; v < problem.visits.size(); ++v)
            if (std::get<0>(eve) >> v & 1U) {
                score.must_weight += problem.visits[v].must_weight;
                score.worth += problem.visits[v].worth;
            }
        score.meals = -std::get<0>(spent);
        score.economy = -std::get<1>(spent);
        score.last = -std::get<2>(spent);
        if (!best || score > *best)
            best = score;
    }
    return best;
}

} // namespace order_tests
