#include "routing/order/solve.hpp"

#include "routing/order/check_problem.hpp"
#include "routing/order/neighbourhoods.hpp"
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
/// Of the labels allowed, a plan of several days gets one part in so many to be proven at once, and one to be improved.
constexpr std::uint64_t first_share = 16;
constexpr std::uint64_t improve_share = 2;

Score score_of(Standing standing) {
    // value = musts * must_unit - missed * missed_meal_unit + worth, with worth and missed below the next unit.
    const std::int64_t worth = standing.value & (missed_meal_unit - 1);
    const std::int64_t rest = (standing.value - worth) / missed_meal_unit;
    constexpr std::int64_t meals_a_must = must_unit / missed_meal_unit;
    const std::int64_t musts = (rest + meals_a_must - 1) / meals_a_must;
    return {musts, rest - musts * meals_a_must, worth, -(standing.cost >> 32U), -(standing.cost & 0xFFFF'FFFF)};
}

Standing standing_of(const Score& score) {
    return {score.must_weight * must_unit + score.meals * missed_meal_unit + score.worth,
            -score.economy * (std::int64_t{1} << 32U) - score.last};
}

/// Runs of growing width over all days; can be taken up again with other limits.
class Runs {
public:
    explicit Runs(Search& search) : search_(search) { search.run_idle(); }

    void go_on() {
        // Ranked by time a beam gets more done, ranked by cost it does it cheaper: wider ones take turns.
        if (width_ == 0) {
            take(search_.run(first_width, Ranking::ready));
            width_ = first_width;
        }
        while (!proven_ && !search_.is_stopped()) {
            const RunResult run = search_.run(width_, ranking_);
            take(run);
            if (search_.is_stopped() && !run.complete)
                return; // the same again, if ever
            width_ *= width_growth;
            ranking_ = ranking_ == Ranking::ready ? Ranking::cost : Ranking::ready;
        }
    }

    bool proven() const { return proven_; }
    /// What may have been missed by every run: each run's bound holds, so the least of them does.
    std::optional<Standing> missed() const { return any_missed_ ? std::optional(missed_) : std::nullopt; }

private:
    void take(const RunResult& run) {
        proven_ = proven_ || run.complete;
        if (run.complete || !run.missed)
            return;
        if (!any_missed_ || better(missed_, *run.missed))
            missed_ = *run.missed;
        any_missed_ = true;
    }

    Search& search_;
    std::size_t width_ = 0;
    Ranking ranking_ = Ranking::cost;
    bool proven_ = false;
    bool any_missed_ = false;
    Standing missed_;
};

} // namespace

Solution solve(const Problem& problem, const SolveLimits& limits) {
    SearchLimits all{limits.labels, limits.labels_held, std::nullopt};
    if (limits.time > Seconds{0})
        all.deadline = std::chrono::steady_clock::now() + limits.time;
    check_problem(problem);
    const Instance instance = prepare(problem);
    Detours detours(instance);
    const bool may_improve = problem.days.size() > 1 && limits.improve_labels > 0;
    SearchLimits first = all;
    if (may_improve)
        first.labels = std::max<std::uint64_t>(1, limits.labels / first_share);
    Search search(instance, detours, whole(instance), first);
    Runs runs(search);
    runs.go_on();

    Solution solution;
    solution.labels = search.labels();
    std::optional<TimedOrder> timed;
    const auto time_found = [&] {
        if (search.best())
            timed = time_order(problem, unfold(instance, whole(instance), search.best()->moves));
        assert(timed);
        solution.score = score_of(problem, *timed);
    };
    if (search.best())
        time_found();
    if (may_improve && !runs.proven()) {
        SearchLimits some = all;
        some.labels = std::min(limits.improve_labels, limits.labels / improve_share);
        Improver improver(instance, detours, some, limits.seed);
        if (timed)
            improver.offer(timed->stops);
        improver.plan_day_by_day();
        improver.improve();
        solution.labels += improver.labels();
        if (improver.best()) {
            timed = improver.best();
            solution.score = improver.score();
            search.beat(standing_of(solution.score));
        }
    }
    if (may_improve && !runs.proven() && limits.labels > solution.labels) {
        all.labels = limits.labels - solution.labels + search.labels();
        const std::uint64_t before = search.labels();
        search.set_limits(all);
        runs.go_on();
        solution.labels += search.labels() - before;
        if (search.best())
            time_found();
    }
    solution.proof = runs.proven() ? Proof::optimal : Proof::bounded;
    solution.found = timed.has_value();
    std::vector<bool> done(problem.visits.size(), false);
    if (timed) {
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
    if (const auto missed = runs.missed(); missed && !runs.proven())
        if (const Score bound = score_of(*missed); !solution.found || bound > solution.score)
            solution.bound = bound;
    // A bound that no better plan can reach proves the one in hand.
    if (solution.found && solution.bound == solution.score)
        solution.proof = Proof::optimal;
    return solution;
}

} // namespace routing::order
