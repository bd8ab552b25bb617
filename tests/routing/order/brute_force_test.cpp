#include "brute_force.hpp"
#include "check_solution.hpp"
#include "random_problem.hpp"

#include "solve_checks.hpp"

#include <doctest/doctest.h>

#include <string>

using namespace order_tests;
using namespace routing::order;

namespace {

/// Solves `count` problems of a family both ways; fails at the first that differs, naming its seed.
void agree(const Family& family, std::uint32_t first_seed, std::uint32_t count) {
    int found = 0;
    int dropping = 0;
    int missing = 0;
    for (std::uint32_t seed = first_seed; seed < first_seed + count; ++seed) {
        CAPTURE(seed);
        const Problem problem = random_problem(family, seed);
        const std::optional<Solution> answer = solved_as_by_brute_force(problem);
        if (!answer)
            continue;
        const Solution& solution = *answer;
        ++found;
        dropping += solution.dropped.empty() ? 0 : 1;
        missing += solution.missed_meals.empty() ? 0 : 1;
    }
    MESSAGE(found, " of ", count, " can be planned, ", dropping, " drop a visit, ", missing, " miss a meal");
    CHECK(found > static_cast<int>(count) / 2);
}

} // namespace

TEST_CASE("days without meals score what trying everything scores") {
    agree({.visits_from = 2, .visits_to = 6, .windows = 3}, 10'000, 3000);
}

TEST_CASE("longer days with narrow windows score what trying everything scores") {
    agree({.visits_from = 6, .visits_to = 8, .meals = 1, .options = 1, .day_length = 80, .window_length = 12}, 20'000,
          1000);
}

TEST_CASE("days with wide windows score what trying everything scores") {
    agree({.visits_from = 3, .visits_to = 5, .meals = 1, .day_length = 140, .window_length = 140}, 30'000, 1000);
}

TEST_CASE("days with meals score what trying everything scores") {
    agree({.visits_from = 2, .visits_to = 4, .meals = 3, .day_length = 80, .carried_meals = true}, 40'000, 2000);
}

TEST_CASE("days whose meals count from the call score what trying everything scores") {
    agree({.visits_from = 2, .visits_to = 4, .meals = 2, .call_limits = true, .carried_meals = true}, 50'000, 3000);
    agree({.meals = 2, .windows = 3, .day_length = 120, .window_length = 60, .call_limits = true}, 60'000, 1000);
}

TEST_CASE("days with open starts and ends score what trying everything scores") {
    agree({.visits_from = 2, .visits_to = 4, .meals = 1, .call_limits = true, .carried_meals = true, .open_ends = true},
          70'000, 2000);
}

TEST_CASE("days already running score what trying everything scores") {
    agree({.visits_from = 3, .visits_to = 5, .meals = 2, .call_limits = true, .running_day = true}, 80'000, 2000);
}

TEST_CASE("two days with beds and turnaround score what trying everything scores") {
    agree(
        {.visits_from = 2, .visits_to = 4, .days = 2, .meals = 2, .windows = 3, .day_length = 45, .call_limits = true},
        90'000, 2000);
    agree({.visits_from = 3, .visits_to = 3, .days = 2, .meals = 1, .day_length = 75, .window_length = 75}, 100'000,
          500);
}

TEST_CASE("three days, some of them off, score what trying everything scores") {
    agree({.visits_from = 2, .visits_to = 3, .days = 3, .meals = 1, .windows = 3, .day_length = 30, .open_ends = true},
          110'000, 2000);
}

TEST_CASE("a search cut short keeps the rules, and its bound holds") {
    CHECK(cut_short({.visits_from = 6,
                     .visits_to = 10,
                     .meals = 2,
                     .day_length = 120,
                     .window_length = 100,
                     .call_limits = true,
                     .carried_meals = true},
                    200) > 100);
}
