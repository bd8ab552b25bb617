#include "brute_force.hpp"

#include <algorithm>
#include <map>
#include <tuple>

namespace order_tests {

using namespace routing::order;

namespace {

/// After some days: what has been done, where the night is spent (-1: nowhere), when the crew last wrapped.
using Eve = std::tuple<std::uint64_t, std::int64_t, Instant>;
/// Meals missed, first economy level, second; smaller is better.
using Spent = std::tuple<std::int64_t, std::int64_t, std::int64_t>;
using Eves = std::map<Eve, Spent>;

constexpr std::int64_t nowhere = -1;

class OneDay {
public:
    OneDay(const Problem& problem, std::size_t number, Eves& after)
        : problem_(problem), day_(problem.days[number]), after_(after) {}

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

    std::int64_t leg(std::int64_t from, std::int64_t to) const {
        if (from == nowhere || from == to)
            return 0;
        return problem_.travel(static_cast<Point>(from), static_cast<Point>(to));
    }

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
            eat(state, m, state.point, state.meal_point);
        for (const Point candidate : meal.candidates)
            if (state.meal_point < 0 || state.meal_point == candidate)
                eat(state, m, candidate, candidate);
    }

    void eat(const State& state, std::size_t m, std::int64_t where, std::int64_t meal_point) {
        const Meal& meal = day_.meals[m];
        const std::int64_t travel = leg(state.point, where);
        if (travel >= TravelMatrix::unreachable)
            return;
        State next = state;
        next.now = std::max(state.now + state.pack + Seconds{travel}, meal.within.earliest);
        if (next.now + meal.service > meal.within.latest || next.now > day_.latest_wrap)
            return;
        if (meal.within_of_call && next.now > call_ + *meal.within_of_call)
            return;
        next.now += meal.service;
        next.pack = Seconds{0};
        next.visited = false;
        next.point = where;
        next.meal_point = meal_point;
        next.next_meal = m + 1;
        next.eaten |= 1U << m;
        next.travel += travel;
        go(next);
    }

    void visit(const State& state, std::uint32_t v, const Option& option) {
        if (done_ >> v & 1U)
            return;
        for (const std::uint32_t before : problem_.visits[v].after)
            if (!(done_ >> before & 1U))
                return;
        const std::int64_t travel = leg(state.point, option.point);
        if (travel >= TravelMatrix::unreachable)
            return;
        State next = state;
        if (!(state.visited && state.point == option.point))
            next.now += state.pack + Seconds{travel} + option.setup;
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
            wrap(state, state.point, 0);
        for (const Point end : day_.ends)
            wrap(state, end, leg(state.point, end));
    }

    void wrap(const State& state, std::int64_t where, std::int64_t travel) {
        if (travel >= TravelMatrix::unreachable)
            return;
        const Instant wrap = state.now + state.pack + Seconds{travel};
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
            nearest = std::min(nearest, leg(place_, end));
        for (const Point end : day_.ends) {
            const std::int64_t travel = leg(place_, end);
            if (travel > nearest && travel > 0 && earliest + day_.pack_at_start + Seconds{travel} > day_.latest_wrap)
                continue;
            if (travel == 0)
                note(end, last_wrap_, 0, 0, 0);
            else if (travel < TravelMatrix::unreachable)
                note(end, earliest + day_.pack_at_start + Seconds{travel}, 0, travel,
                     (earliest + day_.pack_at_start + Seconds{travel} - day_.earliest_call).count());
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
    for (std::size_t d = 0; d < problem.days.size(); ++d) {
        Eves after;
        for (const auto& [eve, spent] : eves)
            OneDay(problem, d, after).try_all(eve, spent);
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
