#include "brute_force.hpp"
#include "check_solution.hpp"
#include "random_problem.hpp"
#include "routing/order/passages.hpp"
#include "routing/order/solve.hpp"
#include "solve_checks.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <random>
#include <stdexcept>
#include <string>

using namespace order_tests;
using namespace routing::order;
using std::chrono::hours;
using std::chrono::minutes;

namespace {

constexpr Instant noon{Seconds{1'778'000'000}};
constexpr Instant always = Instant::min();
constexpr Instant ever = Instant::max();

/// The stops with nothing but their order left.
std::vector<Stop> untimed(const std::vector<Stop>& stops) {
    std::vector<Stop> bare;
    for (const Stop& stop : stops)
        bare.push_back(
            {.kind = stop.kind, .day = stop.day, .index = stop.index, .option = stop.option, .point = stop.point});
    return bare;
}

/// Solves `count` problems of a family both ways; fails at the first that differs, naming its seed.
void agree(Family family, std::uint32_t first_seed, std::uint32_t count) {
    family.varying = true;
    int found = 0;
    int waiting = 0;
    int mattering = 0;
    for (std::uint32_t seed = first_seed; seed < first_seed + count; ++seed) {
        CAPTURE(seed);
        const Problem problem = random_problem(family, seed);
        const std::optional<Solution> answer = solved_as_by_brute_force(problem);
        if (!answer)
            continue;
        const Solution& solution = *answer;
        std::vector<Stop> stops = untimed(solution.stops);
        REQUIRE(time_stops(problem, stops));
        REQUIRE(stops == solution.stops);
        ++found;
        Problem constant = problem;
        constant.varying.clear();
        mattering += solve(constant).score > solution.score ? 1 : 0;
        for (std::size_t i = 1; i < stops.size(); ++i)
            if (stops[i].travel_in > 0 && stops[i - 1].kind == StopKind::meal && stops[i - 1].leave > stops[i - 1].end)
                waiting += 1;
    }
    MESSAGE(found, " of ", count, " can be planned, the hour costs something in ", mattering, ", ", waiting,
            " waits after a meal");
    CHECK(found > static_cast<int>(count) / 2);
    CHECK(mattering > static_cast<int>(count) / 10);
}

/// Base 0 and a must at 1, ten minutes away but for a road shut from noon to two, the barrier halfway; an hour round.
Problem shut_at_noon() {
    Problem problem;
    problem.travel = {2, {0, 600, 600, 0}};
    const std::vector<Passage> passages = {
        {{always, noon - minutes{5}}, 600}, {{noon + hours{2} - minutes{5}, ever}, 600}, {{always, ever}, 3600}};
    problem.varying = {{0, 1, passages}, {1, 0, passages}};
    problem.visits = {{{{1, minutes{30}, {}, {}, {{noon - minutes{20}, noon + hours{5}}}}}, 1, 0, {}}};
    problem.days = {{noon - hours{3}, noon + hours{6}, 0, {0}, {}, {}}};
    return problem;
}

} // namespace

TEST_CASE("days with roads shut for a time score what trying everything scores") {
    agree({.visits_from = 2, .visits_to = 5, .windows = 3}, 200'000, 2000);
    agree({.visits_from = 3, .visits_to = 5, .day_length = 140, .window_length = 140}, 210'000, 500);
}

TEST_CASE("days with roads shut and meals score what trying everything scores") {
    agree({.visits_from = 2, .visits_to = 4, .meals = 2, .day_length = 80, .carried_meals = true}, 220'000, 1000);
}

TEST_CASE("days with roads shut whose meals count from the call score what trying everything scores") {
    agree({.visits_from = 2, .visits_to = 4, .meals = 2, .call_limits = true, .carried_meals = true}, 230'000, 1500);
}

TEST_CASE("days with roads shut and open starts and ends score what trying everything scores") {
    agree({.visits_from = 2, .visits_to = 4, .meals = 1, .call_limits = true, .carried_meals = true, .open_ends = true},
          240'000, 1000);
}

TEST_CASE("running days with roads shut score what trying everything scores") {
    agree({.visits_from = 2, .visits_to = 4, .meals = 2, .call_limits = true, .running_day = true}, 250'000, 1000);
}

TEST_CASE("several days with roads shut, some of them off, score what trying everything scores") {
    agree(
        {.visits_from = 2, .visits_to = 3, .days = 2, .meals = 1, .windows = 3, .day_length = 45, .call_limits = true},
        260'000, 1000);
    agree({.visits_from = 2, .visits_to = 3, .days = 3, .meals = 1, .windows = 3, .day_length = 30, .open_ends = true},
          270'000, 1000);
}

TEST_CASE("a straight day that gains by coming late may not make the next one come late for a far end") {
    // 7801152: the first day may go home late to its nearest end, with less travel, but the second then can't be in
    // time.
    agree({.visits_from = 1, .visits_to = 2, .days = 3, .day_length = 20, .running_day = true}, 7'801'000, 300);
}

TEST_CASE("least travel first waits for the road to open; earliest wrap first goes round") {
    Problem problem = shut_at_noon();
    const Solution waits = solve(problem);
    CHECK(faults_in(problem, waits).empty());
    CHECK(waits.score == Score{1, 0, 0, -20 * 60, -(5 * 60 + 5) * 60});
    // There before noon, back when the road opens: the crew stays at the must till then.
    CHECK(waits.stops[0].leave == noon - minutes{30});
    CHECK(waits.stops[1].start == noon - minutes{20});
    CHECK(waits.stops[1].end == noon + minutes{10});
    CHECK(waits.stops[1].leave == noon + hours{2} - minutes{5});
    CHECK(waits.stops[2].travel_in == 600);
    CHECK(waits.stops[1].leave_by == noon + hours{6} - minutes{10});

    problem.economy = Economy::wrap;
    const Solution round = solve(problem);
    CHECK(faults_in(problem, round).empty());
    CHECK(round.score == Score{1, 0, 0, -(3 * 60 + 70) * 60, -70 * 60});
    CHECK(round.stops[1].leave == noon + minutes{10});
    CHECK(round.stops[2].arrive == noon + minutes{70});
}

TEST_CASE("a bed or meal point whose road is shut does not hide one that is farther by open roads") {
    // Points: 0 base, 1 and 2 visits, 3 near, 4 on the way on, 5 better than 4 but for the road to it.
    Problem problem;
    constexpr std::int32_t far = 5000;
    problem.travel = {6, {0,   600, far, far, far, far, 600, 0,   far, 100, 300, 200, far, far, 0,   far, far, far,
                          far, far, 900, 0,   far, far, far, far, 300, far, 0,   far, far, far, 200, far, far, 0}};
    problem.varying = {{1, 5, {{{always, ever}, 2000}}}};
    const auto visit = [](Point point, int day) {
        const Instant from = noon + hours{24 * day};
        return Visit{{{point, minutes{30}, {}, {}, {{from, from + hours{5}}}}}, 1, 0, {}};
    };
    problem.visits = {visit(1, 0), visit(2, 1)};
    problem.days = {{noon - hours{1}, noon + hours{6}, 0, {3, 4, 5}, {}, {}},
                    {noon + hours{23}, noon + hours{30}, {}, {2}, {}, {}}};
    const Solution beds = solve(problem);
    CHECK(faults_in(problem, beds).empty());
    CHECK(beds.score.must_weight == 2);
    CHECK(beds.score.economy == -(600 + 300 + 300));

    problem.visits = {visit(1, 0), visit(2, 0)};
    problem.visits[1].after = {0};
    problem.days = {{noon - hours{1}, noon + hours{6}, 0, {2}, {}, {}}};
    problem.days[0].meals = {{{noon, noon + hours{4}}, minutes{30}, {}, {3, 4, 5}, false}};
    const Solution meals = solve(problem);
    CHECK(faults_in(problem, meals).empty());
    CHECK(meals.score.meals == 0);
    CHECK(meals.score.economy == -(600 + 300 + 300));
}

TEST_CASE("the crew is called as late as a road that is about to shut allows") {
    Problem problem = shut_at_noon();
    problem.visits[0].options[0].windows = {{noon + minutes{60}, noon + minutes{65}}};
    problem.economy = Economy::wrap;
    const Solution solution = solve(problem);
    CHECK(faults_in(problem, solution).empty());
    CHECK(solution.stops[0].leave == noon - minutes{5});
    CHECK(solution.stops[1].arrive == noon + minutes{5});
    CHECK(solution.stops[0].leave_by == noon - minutes{5}); // later the way round is still in time, but is not told
    CHECK(solution.stops[0].slack == minutes{0});
}

TEST_CASE("a leg without passages, or with the last one over, is no way") {
    Problem problem = shut_at_noon();
    problem.varying[1].passages.clear();
    CHECK(solve(problem).dropped == std::vector<std::uint32_t>{0});
    problem = shut_at_noon();
    problem.varying[0].passages = {{{always, noon - hours{4}}, 600}};
    CHECK(solve(problem).dropped == std::vector<std::uint32_t>{0});
}

TEST_CASE("varying legs that never vary change nothing") {
    for (std::uint32_t seed = 1; seed <= 500; ++seed) {
        CAPTURE(seed);
        const Problem plain = random_problem({.days = 1 + seed % 2,
                                              .meals = 2,
                                              .windows = 3,
                                              .call_limits = seed % 3 > 0,
                                              .carried_meals = true,
                                              .open_ends = seed % 2 == 0},
                                             seed);
        Problem same = plain;
        for (Point a = 0; a < plain.travel.size; ++a)
            for (Point b = 0; b < plain.travel.size; ++b)
                if (a != b && plain.travel(a, b) > 0 && plain.travel(a, b) < TravelMatrix::unreachable)
                    same.varying.push_back({a, b, {{{always, ever}, plain.travel(a, b)}}});
        const Solution expected = solve(plain);
        const Solution solution = solve(same);
        CHECK(text(solution.score) == text(expected.score));
        if (expected.found)
            for (const std::string& fault : faults_in(plain, solution))
                FAIL(fault);
    }
}

TEST_CASE("a search with roads shut that is cut short keeps the rules, and its bound holds") {
    CHECK(cut_short({.visits_from = 6,
                     .visits_to = 8,
                     .meals = 2,
                     .day_length = 120,
                     .window_length = 100,
                     .call_limits = true,
                     .carried_meals = true,
                     .varying = true},
                    100) > 50);
}

TEST_CASE("passages of a function arrive when it does, waiting allowed") {
    std::mt19937 engine(7);
    const auto roll = [&](int from, int to) {
        return from + static_cast<int>(engine() % static_cast<std::uint32_t>(to - from + 1));
    };
    for (int round = 0; round < 300; ++round) {
        CAPTURE(round);
        const int length = roll(0, 400);
        std::vector<std::int32_t> seconds{roll(1, 100)};
        const int gone = roll(0, 3) == 0 ? roll(0, length) : length + 1;
        for (int t = 1; t <= length; ++t) {
            const std::int32_t before = seconds.back();
            const int die = roll(0, 30);
            seconds.push_back(die == 0 ? before + roll(1, 40) : die < 16 && before > 1 ? before - 1 : before);
        }
        for (int t = gone; t <= length; ++t)
            seconds[static_cast<std::size_t>(t)] = TravelMatrix::unreachable;
        const auto at = [&](Instant departure) {
            return seconds.at(static_cast<std::size_t>((departure - noon).count()));
        };
        const int step = round % 2 == 0 ? 1 : roll(2, 60);
        const std::vector<Passage> found =
            passages(at, {{noon, noon + Seconds{length}}}, {noon, noon + Seconds{length}}, Seconds{step});
        for (int t = 0; t <= length; ++t) {
            CAPTURE(t);
            // Least arrival, and least travel, of all departures from t on.
            std::int64_t arrival = TravelMatrix::unreachable;
            std::int64_t told = TravelMatrix::unreachable;
            std::int64_t travel = TravelMatrix::unreachable;
            std::int64_t travel_told = TravelMatrix::unreachable;
            for (int later = t; later <= length; ++later)
                if (const std::int64_t s = seconds[static_cast<std::size_t>(later)]; s < TravelMatrix::unreachable) {
                    arrival = std::min(arrival, later + s);
                    travel = std::min(travel, s);
                }
            for (const Passage& passage : found) {
                if (passage.departure.latest < noon + Seconds{t})
                    continue;
                const Instant leave = std::max(passage.departure.earliest, noon + Seconds{t});
                told = std::min<std::int64_t>(told, (leave - noon).count() + passage.seconds);
                travel_told = std::min<std::int64_t>(travel_told, passage.seconds);
            }
            REQUIRE(std::abs(arrival - told) < step);
            if (step == 1)
                REQUIRE(travel == travel_told);
        }
    }
}

TEST_CASE("a shut road is found with few questions") {
    int asked = 0;
    const auto shut = [&](Instant departure) {
        ++asked;
        if (departure <= noon - minutes{5} || departure >= noon + hours{2} - minutes{5})
            return 600;
        return std::min(3600, static_cast<int>((noon + hours{2} + minutes{5} - departure).count()));
    };
    const geo::Intervals unsettled{{noon - minutes{5}, noon + hours{2} - minutes{5}}};
    const std::vector<Passage> found = passages(shut, unsettled, {noon - hours{9}, noon + hours{10}});
    REQUIRE(found.size() == 3);
    CHECK(found[0].departure.earliest == always);
    CHECK(found[0].departure.latest == noon - minutes{5});
    CHECK(found[0].seconds == 600);
    CHECK(found[1].departure.earliest == noon - minutes{5} + Seconds{1});
    CHECK(found[1].departure.latest == noon + minutes{65});
    CHECK(found[1].seconds == 3600);
    CHECK(found[2].departure.earliest == noon + hours{2} - minutes{5});
    CHECK(found[2].departure.latest == ever);
    CHECK(asked < 150);
}

TEST_CASE("a closure shorter than the step is not passed over") {
    const auto shut = [&](Instant departure) {
        return departure > noon - Seconds{20} && departure < noon + Seconds{10} ? 900 : 600;
    };
    const std::vector<Passage> found =
        passages(shut, {{noon - Seconds{20}, noon + Seconds{10}}}, {noon - hours{9}, noon + hours{10}});
    REQUIRE(found.size() == 3);
    CHECK(found[0].departure.latest == noon - Seconds{20});
    CHECK(found[1].departure.earliest == noon - Seconds{19});
    CHECK(found[1].departure.latest == noon + Seconds{9});
    CHECK(found[2].departure.earliest == noon + Seconds{10});
}

TEST_CASE("only pairs whose travel does vary become varying legs") {
    const TravelMatrix travel{3, {0, 600, 600, 600, 0, TravelMatrix::unreachable, 600, 600, 0}};
    const auto at = [&](Point from, Point, Instant departure) { return from == 0 && departure > noon ? 900 : 600; };
    const auto unsettled = [&](Point, Point to) {
        return to == 2 ? geo::Intervals{} : geo::Intervals{{noon, noon + hours{3}}};
    };
    const std::vector<VaryingLeg> legs = varying_legs(travel, unsettled, at, {noon - hours{1}, noon + hours{1}});
    REQUIRE(legs.size() == 1);
    CHECK(legs[0].from == 0);
    CHECK(legs[0].to == 1);
    CHECK(legs[0].passages.size() == 2);
}

TEST_CASE("malformed varying legs are refused") {
    const auto refused = [](auto&& spoil, const char* what) {
        Problem problem = shut_at_noon();
        spoil(problem.varying);
        CHECK_THROWS_WITH_AS(solve(problem), what, std::invalid_argument);
    };
    refused([](auto& legs) { legs[0].to = 2; }, "varying leg 0 to 2: point 2 is not in the travel matrix");
    refused([](auto& legs) { legs[0].to = 0; }, "varying leg 0 to 0: leads nowhere");
    refused([](auto& legs) { legs[1] = legs[0]; }, "varying leg 0 to 1: is there twice");
    refused([](auto& legs) { legs[0].passages[0].seconds = 0; },
            "varying leg 0 to 1: a passage must take 1 to 2000000 s");
    refused([](auto& legs) { legs[0].passages[0].seconds = 599; },
            "varying leg 0 to 1: a passage is shorter than the travel matrix says");
    refused([](auto& legs) { std::swap(legs[0].passages[0].departure.earliest, legs[0].passages[0].departure.latest); },
            "varying leg 0 to 1: a passage ends before it begins");
}
