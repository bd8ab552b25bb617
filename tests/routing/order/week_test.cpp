// Plans of several days: made part by part where one search over all days is too much.

#include "check_solution.hpp"
#include "made_week.hpp"
#include "random_problem.hpp"
#include "solve_checks.hpp"

#include "routing/order/neighbourhoods.hpp"
#include "routing/order/unfold.hpp"
#include "routing/order/worth_bound.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <vector>

using namespace order_tests;
using namespace routing::order;

namespace {

constexpr SearchLimits plenty{3'000'000, 1'000'000, std::nullopt};

Family several_days(std::uint32_t seed) {
    return {.visits_from = 4,
            .visits_to = 8,
            .days = 2 + seed % 2,
            .meals = 2,
            .day_length = 50,
            .window_length = 40,
            .call_limits = seed % 3 == 0,
            .carried_meals = true,
            .open_ends = seed % 5 == 0,
            .running_day = seed % 7 == 0};
}

std::int64_t all_musts(const Problem& problem) {
    std::int64_t musts = 0;
    for (const Visit& visit : problem.visits)
        musts += visit.must_weight;
    return musts;
}

/// Going straight is never longer than by way of another point.
void straighten(TravelMatrix& travel) {
    for (Point by = 0; by < travel.size; ++by)
        for (Point from = 0; from < travel.size; ++from)
            for (Point to = 0; to < travel.size; ++to) {
                const auto at = [&](Point a, Point b) -> std::int32_t& {
                    return travel.seconds[std::size_t{a} * travel.size + b];
                };
                if (from != by && to != by && at(from, by) < at(from, to) && at(by, to) < at(from, to))
                    at(from, to) = std::min(at(from, to), at(from, by) + at(by, to));
            }
}

VisitSet done_in(const std::vector<Stop>& stops) {
    VisitSet done = 0;
    for (const Stop& stop : stops)
        if (stop.kind == StopKind::visit)
            done |= VisitSet{1} << stop.index;
    return done;
}

} // namespace

TEST_CASE("plans made better part by part keep the rules, never get worse and mostly end up the best there is") {
    int planned = 0;
    int best = 0;
    for (std::uint32_t seed = 1; seed <= 120; ++seed) {
        CAPTURE(seed);
        const Problem problem = random_problem(several_days(seed), 130'000 + seed);
        const Solution proven = solve(problem);
        REQUIRE(proven.proof == Proof::optimal);
        if (!proven.found)
            continue;
        const Instance instance = prepare(problem);
        Detours detours(instance);
        // To begin with: days without visits, or what the narrowest beam finds.
        Search search(instance, detours, whole(instance), plenty);
        search.run_idle();
        search.run(1, Ranking::ready);
        if (!search.best())
            continue;
        const std::vector<Stop> first = unfold(instance, whole(instance), search.best()->moves);
        const Score first_score = score_of(problem, time_order(problem, first).value());
        Improver improver(instance, detours, {20'000, 1'000'000, std::nullopt}, seed);
        improver.offer(first);
        improver.improve();
        REQUIRE(improver.best().has_value());
        const Score& score = improver.best()->score();
        REQUIRE(score >= first_score);
        REQUIRE(score <= proven.score);
        Solution answer;
        answer.score = answer.bound = score;
        answer.stops = improver.best()->timed().stops;
        answer.missed_meals = improver.best()->timed().missed_meals;
        for (std::uint32_t v = 0; v < problem.visits.size(); ++v)
            if (!(done_in(answer.stops) >> v & 1U))
                answer.dropped.push_back(v);
        for (const std::string& fault : faults_in(problem, answer))
            FAIL(fault);
        ++planned;
        best += score == proven.score ? 1 : 0;
    }
    MESSAGE(best, " of ", planned, " are the best there is");
    CHECK(planned > 100);
    CHECK(best * 100 >= planned * 95);
}

TEST_CASE("a part of a plan, searched for better than what it has, never hides that it was better") {
    // One day of the best plan set free has nothing better; of a plan without visits it has what the day can bring.
    for (std::uint32_t seed = 1; seed <= 100; ++seed) {
        CAPTURE(seed);
        const Problem problem = random_problem(several_days(seed), 140'000 + seed);
        const Solution proven = solve(problem);
        if (!proven.found)
            continue;
        const Instance instance = prepare(problem);
        Detours detours(instance);
        const HeldPlan plan(instance, time_order(problem, proven.stops).value());
        CHECK(text(plan.score()) == text(proven.score));
        for (std::uint32_t days = 1; days < 1U << problem.days.size(); ++days) {
            const Part part = plan.part_of(
                days, whole(instance).free & ~[&] {
                    VisitSet elsewhere = 0;
                    for (std::uint32_t d = 0; d < problem.days.size(); ++d)
                        elsewhere |= days >> d & 1U ? 0 : plan.done(d);
                    return elsewhere;
                }());
            Search search(instance, detours, part, plenty);
            search.beat(plan.standing_of(part));
            CHECK(search.run(0, Ranking::ready).complete);
            if (!search.best())
                continue;
            const auto better = time_order(problem, plan.with(part, unfold(instance, part, search.best()->moves)));
            CHECK((!better || score_of(problem, *better) <= proven.score));
        }
    }
}

TEST_CASE("a week of sixty scenes keeps all musts and most worth") {
    // One beam over all days, given 60 million labels, leaves out two of the thirteen musts.
    const Problem problem = made_week({.scenes = 60, .days = 6}, 1);
    const Solution solution = solve(problem, {.labels = 8'000'000});
    for (const std::string& fault : faults_in(problem, solution))
        FAIL(fault);
    CHECK(solution.score.must_weight == 13);
    CHECK(all_musts(problem) == 13);
    CHECK(solution.score.meals == 0);
    CHECK(solution.score.worth >= 265); // 281 with more time
    CHECK(solution.bound >= solution.score);
    CHECK(solution.labels < 9'000'000);
}

TEST_CASE("a week is planned alike each time, and by every seed within the rules") {
    const Problem problem = made_week({.scenes = 24, .days = 4, .beds = 20, .meal_points = 20}, 3);
    const Solution once = solve(problem, {.labels = 1'000'000});
    const Solution again = solve(problem, {.labels = 1'000'000});
    CHECK(once.stops == again.stops);
    CHECK(once.labels == again.labels);
    CHECK(once.bound == again.bound);
    const Solution other = solve(problem, {.labels = 1'000'000, .seed = 5});
    for (const std::string& fault : faults_in(problem, other))
        FAIL(fault);
    // Without improving: what the beams alone find.
    CHECK(solve(problem, {.labels = 1'000'000, .improve_labels = 0}).score <= once.score);
}

TEST_CASE("a week stopped by the clock has a plan, and a bound that holds") {
    const Problem problem = made_week({.scenes = 40, .days = 5}, 2);
    const Solution solution = solve(problem, {.time = Seconds{1}});
    for (const std::string& fault : faults_in(problem, solution))
        FAIL(fault);
    CHECK(solution.bound >= solution.score);
}

TEST_CASE("the bound on worth is never below the best plan's, and often tells it") {
    int asked = 0;
    int tight = 0;
    for (std::uint32_t seed = 1; seed <= 1200; ++seed) {
        CAPTURE(seed);
        Problem problem = random_problem(several_days(seed), 150'000 + seed);
        if (seed % 4 != 0) // else visits that bring nothing may be worth a stop
            straighten(problem.travel);
        const Solution proven = solve(problem);
        if (!proven.found || proven.score.must_weight != all_musts(problem) || proven.score.meals != 0)
            continue;
        const Instance instance = prepare(problem);
        Detours detours(instance);
        const WorthBound bound = bound_worth(instance, detours, done_in(proven.stops), plenty);
        REQUIRE(bound.worth.has_value());
        REQUIRE(*bound.worth >= proven.score.worth);
        ++asked;
        tight += *bound.worth == proven.score.worth ? 1 : 0;
        // Stopped after one step it holds as well.
        REQUIRE(*bound_worth(instance, detours, 0, {1, 1'000'000, std::nullopt}).worth >= proven.score.worth);
    }
    MESSAGE(tight, " of ", asked, " are tight");
    CHECK(asked > 300);
    CHECK(tight * 2 > asked);
}

TEST_CASE("with prices for minutes a search finds the same best, and its bound at the root holds") {
    for (std::uint32_t seed = 1; seed <= 600; ++seed) {
        CAPTURE(seed);
        Family family = several_days(seed);
        family.days = 1 + seed % 3;
        family.meal_hours = seed % 2 == 0;
        const Problem problem = random_problem(family, 160'000 + seed);
        const Solution proven = solve(problem);
        if (!proven.found)
            continue;
        const Instance instance = prepare(problem);
        Detours detours(instance);
        const Part all = whole(instance);
        Search search(instance, detours, all, plenty);
        search.run_idle();
        search.price_minutes(40, 0);
        REQUIRE(search.run(0, Ranking::ready).complete);
        const Score found = score_of(problem, time_order(problem, unfold(instance, all, search.best()->moves)).value());
        REQUIRE(text(found) == text(proven.score));
        MinutePrices prices(instance, all);
        prices.improve(40, 0);
        REQUIRE(prices.value() >=
                proven.score.must_weight * must_unit + proven.score.meals * missed_meal_unit + proven.score.worth);
    }
}
