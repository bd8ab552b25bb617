#include "routing/order/solve.hpp"

#include "routing/order/check_problem.hpp"
#include "routing/order/search.hpp"
#include "routing/order/timed_order.hpp"

#include <algorithm>
#include <cassert>

namespace routing::order {
namespace {

/// Beam widths before the search without one.
constexpr std::size_t first_width = 64;
constexpr std::size_t width_growth = 8;

/// The stops a plan's moves stand for, without times.
class Unfolding {
public:
    explicit Unfolding(const Instance& instance) : instance_(instance), problem_(*instance.problem) {}

    std::vector<Stop> run(const Plan& plan) {
        begin_day();
        for (const Move& move : plan.moves)
            add(move);
        return std::move(stops_);
    }

private:
    void begin_day() {
        if (day_ < problem_.days.size() && problem_.days[day_].start)
            where_ = problem_.days[day_].start;
        start_is_open_ = true;
    }

    void add(const Move& move) {
        const bool is_end = move.step >= end_step;
        const std::uint32_t end = is_end ? move.step - end_step : 0U;
        const DayPlan& plan = instance_.days[day_];
        const Gap* gap = move.gap == no_gap ? nullptr : &plan.gaps[move.gap];
        std::optional<Point> to;
        if (!is_end)
            to = instance_.ways[move.step].point;
        else if (end != Detours::where_it_is)
            to = plan.ends[end];
        const std::optional<Point> by = gap && gap->there != 0 ? std::optional<Point>(move.via) : std::nullopt;

        if (!where_)
            where_ = by ? by : to; // the crew meets there
        if (start_is_open_ && where_)
            stops_.push_back({.kind = StopKind::start, .day = day_, .point = *where_});
        start_is_open_ = false;
        if (gap) {
            add_meals(gap->here, *where_);
            if (by)
                where_ = by;
            add_meals(gap->there, *where_);
        }
        if (to)
            where_ = to;
        if (!is_end) {
            const Way& way = instance_.ways[move.step];
            stops_.push_back({.day = day_, .index = way.visit, .option = way.option, .point = way.point});
            return;
        }
        if (where_)
            stops_.push_back({.kind = StopKind::end, .day = day_, .point = *where_});
        ++day_;
        begin_day();
    }

    void add_meals(std::uint32_t meals, Point point) {
        for (std::uint32_t m = 0; meals >> m != 0; ++m)
            if (meals >> m & 1U)
                stops_.push_back({.kind = StopKind::meal, .day = day_, .index = m, .point = point});
    }

    const Instance& instance_;
    const Problem& problem_;
    std::vector<Stop> stops_;
    std::uint32_t day_ = 0;
    std::optional<Point> where_;
    bool start_is_open_ = false;
};

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
    check_problem(problem);
    const Instance instance = prepare(problem);
    Search search(instance, limits);
    const BestMissed missed = search_all(search);

    Solution solution;
    solution.proof = missed.proven ? Proof::optimal : Proof::bounded;
    solution.labels = search.labels();
    solution.found = search.best().has_value();
    std::vector<bool> done(problem.visits.size(), false);
    if (solution.found) {
        std::optional<TimedOrder> timed = time_order(problem, Unfolding(instance).run(*search.best()));
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
