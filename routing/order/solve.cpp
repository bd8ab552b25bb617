#include "routing/order/solve.hpp"

#include "routing/order/check_problem.hpp"
#include "routing/order/search.hpp"
#include "routing/order/timed_order.hpp"
#include "routing/order/unfold.hpp"

#include <algorithm>
#include <cassert>

namespace routing::order {
namespace {

/// Beam widths before the search without one.
constexpr std::size_t first_width = 64;
constexpr std::size_t width_growth = 8;

Score score_of(Standing standing) {
    // value = musts * must_unit - missed * missed_meal_unit + worth, with worth and missed below the next unit.
    const std::int64_t worth = standing.value & (missed_meal_unit - 1);
    const std::int64_t rest = (standing.value - worth) / missed_meal_unit;
    constexpr std::int64_t meals_a_must = must_unit / missed_meal_unit;
    const std::int64_t musts = (rest + meals_a_must - 1) / meals_a_must;
    return {musts, rest - musts * meals_a_must, worth, -(standing.cost >> 32U), -(standing.cost & 0xFFFF'FFFF)};
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

/// The best standing that may have been missed by every run: each run's bound holds, so the least of them does.
struct BestMissed {
    bool proven = false;
    std::optional<Standing> bound;

    void take(const RunResult& run) {
        proven = proven || run.complete;
        if (!run.complete && (!bound || better(*bound, *run.missed)))
            bound = run.missed;
    }
};

BestMissed search_all(Search& search) {
    BestMissed missed;
    search.run_idle();
    // Ranked by time a beam gets more done, ranked by cost it does it cheaper: wider ones take turns.
    missed.take(search.run(first_width, Ranking::ready));
    Ranking ranking = Ranking::cost;
    for (std::size_t width = first_width; !missed.proven && !search.is_stopped(); width *= width_growth) {
        missed.take(search.run(width, ranking));
        ranking = ranking == Ranking::ready ? Ranking::cost : Ranking::ready;
    }
    return missed;
}

} // namespace

Solution solve(const Problem& problem, const SolveLimits& limits) {
    std::optional<std::chrono::steady_clock::time_point> deadline;
    if (limits.time > Seconds{0})
        deadline = std::chrono::steady_clock::now() + limits.time;
    check_problem(problem);
    const Instance instance = prepare(problem);
    Detours detours(instance);
    Search search(instance, detours, whole(instance), {limits.labels, limits.labels_held, deadline});
    const BestMissed missed = search_all(search);

    Solution solution;
    solution.proof = missed.proven ? Proof::optimal : Proof::bounded;
    solution.labels = search.labels();
    solution.found = search.best().has_value();
    std::vector<bool> done(problem.visits.size(), false);
    if (solution.found) {
        std::optional<TimedOrder> timed = time_order(problem, unfold(instance, whole(instance), search.best()->moves));
        assert(timed);
        solution.score = score_of(problem, *timed);
        // Better only where a beam has cut the passages that make it so.
        assert(missed.proven ? solution.score == score_of(search.best()->standing)
                             : solution.score >= score_of(search.best()->standing));
        solution.stops = std::move(timed->stops);
        solution.missed_meals = std::move(timed->missed_meals);
        for (const Stop& stop : solution.stops)
            if (stop.kind == StopKind::visit)
                done[stop.index] = true;
    }
    for (std::uint32_t v = 0; v < done.size(); ++v)
        if (!done[v])
            solution.dropped.push_back(v);

    solution.bound = solution.score;
    if (!missed.proven && missed.bound)
        if (const Score bound = score_of(*missed.bound); !solution.found || bound > solution.score)
            solution.bound = bound;
    // A bound that no better plan can reach proves the one in hand.
    if (solution.found && solution.bound == solution.score)
        solution.proof = Proof::optimal;
    return solution;
}

} // namespace routing::order
