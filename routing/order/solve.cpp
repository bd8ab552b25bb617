#include "routing/order/solve.hpp"

#include "routing/order/check_problem.hpp"
#include "routing/order/neighbourhoods.hpp"
#include "routing/order/search.hpp"
#include "routing/order/timed_order.hpp"
#include "routing/order/unfold.hpp"
#include "routing/order/worth_bound.hpp"

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

Standing standing_of(const Score& score) {
    return {score.must_weight * must_unit + score.meals * missed_meal_unit + score.worth,
            -score.economy * (std::int64_t{1} << 32U) - score.last};
}

/// Runs of growing width over all days; can be taken up again with other limits.
class Runs {
public:
    explicit Runs(Search& search) : search_(search) {}

    void go_on() {
        // Ranked by time a beam gets more done, ranked by cost it does it cheaper: wider ones take turns.
        if (width_ == 0) {
            search_.run_idle();
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
    /// Not if even the widest run has cut far more than it kept.
    bool may_be_proven() const { return may_be_proven_; }
    /// What may have been missed by every run: each run's bound holds, so the least of them does.
    std::optional<Standing> missed() const { return any_missed_ ? std::optional(missed_) : std::nullopt; }

private:
    void take(const RunResult& run) {
        proven_ = proven_ || run.complete;
        if (run.complete || !run.missed)
            return;
        if (!search_.is_stopped())
            may_be_proven_ = run.cut <= width_growth * run.extended;
        if (!any_missed_ || better(missed_, *run.missed))
            missed_ = *run.missed;
        any_missed_ = true;
    }

    Search& search_;
    std::size_t width_ = 0;
    Ranking ranking_ = Ranking::cost;
    bool proven_ = false;
    bool may_be_proven_ = true;
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
    Search search(instance, detours, whole(instance), all);
    Runs runs(search);
    Improver improver(instance, detours, all, limits.seed);
    std::optional<TimedOrder> timed;
    Solution solution;
    const auto left = [&] { return limits.labels - std::min(limits.labels, search.labels() + improver.labels()); };
    const auto run_all = [&](std::uint64_t labels) {
        SearchLimits some = all;
        some.labels = search.labels() + std::min(labels, left());
        search.set_limits(some);
        runs.go_on();
        if (!search.best())
            return;
        timed = time_order(problem, unfold(instance, whole(instance), search.best()->moves));
        assert(timed);
        solution.score = score_of(problem, *timed);
    };
    const auto improve = [&](std::uint64_t labels) {
        SearchLimits some = all;
        some.labels = std::min(improver.labels() + std::min(labels, left()), limits.improve_labels);
        improver.set_limits(some);
        if (timed)
            improver.offer(timed->stops);
        improver.improve();
        if (!improver.best())
            return;
        timed = improver.best()->timed();
        solution.score = improver.best()->score();
        search.beat(standing_of(solution.score));
    };
    std::uint64_t bound_labels = 0;
    std::optional<Score> bound;
    const auto worth_bound = [&]() -> std::optional<Score> {
        VisitSet done = 0;
        for (const Stop& stop : timed->stops)
            if (stop.kind == StopKind::visit)
                done |= VisitSet{1} << stop.index;
        VisitSet possible = 0;
        for (const DayPlan& day : instance.days)
            possible |= day.possible;
        for (std::uint32_t v = 0; v < instance.visits; ++v)
            if (problem.visits[v].must_weight > 0 && (possible & ~done) >> v & 1U)
                return std::nullopt; // which musts can be done is not known
        SearchLimits some = all;
        some.labels = std::min(left(), limits.labels / 4);
        const WorthBound least = bound_worth(instance, detours, done, some);
        bound_labels = least.labels;
        if (!least.worth)
            return std::nullopt;
        return Score{solution.score.must_weight, 0, std::max(*least.worth, solution.score.worth), 0, 0};
    };
    if (problem.days.size() > 1 && limits.improve_labels > 0) {
        // What is small is proven soon; what is not gets a plan first, and another chance to be proven.
        run_all(std::clamp<std::uint64_t>(limits.labels / 64, 1, 1'000'000));
        if (!runs.proven())
            improve(std::min<std::uint64_t>(limits.labels / 32, 2'000'000));
        if (!runs.proven())
            run_all(std::min<std::uint64_t>(limits.labels / 16, 4'000'000));
        const bool promising = runs.may_be_proven();
        if (!runs.proven() && promising)
            run_all(limits.labels / 2);
        if (!runs.proven())
            improve(limits.improve_labels);
        if (!runs.proven() && promising)
            run_all(left() - std::min(left(), limits.labels / 4)); // the rest is for the bound
        if (!runs.proven() && timed)
            bound = worth_bound();
    } else {
        run_all(limits.labels);
    }
    solution.labels = search.labels() + improver.labels() + bound_labels;
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
        if (const Score all_days = score_of(*missed); !solution.found || all_days > solution.score)
            solution.bound = bound && *bound < all_days ? *bound : all_days;
    // A bound that no better plan can reach proves the one in hand.
    if (solution.found && solution.bound == solution.score)
        solution.proof = Proof::optimal;
    return solution;
}

} // namespace routing::order
