/// Meals at places that are not open at every hour.

#include "brute_force.hpp"
#include "check_solution.hpp"
#include "random_problem.hpp"

#include "solve_checks.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <stdexcept>
#include <string>

using namespace order_tests;
using namespace routing::order;
using std::chrono::hours;
using std::chrono::minutes;

namespace {

constexpr Instant midnight{Seconds{1'800'000'000 / 86'400 * 86'400}};

Instant clock(int hour, int minute = 0) {
    return midnight + hours{hour} + minutes{minute};
}

/// A visit near noon, lunch at the near place 1 or the far place 2, ten minutes a step.
Problem lunch_day() {
    Problem problem;
    problem.travel = {4, {0, 600, 1800, 600, 600, 0, 1200, 600, 1800, 1200, 0, 1200, 600, 600, 1200, 0}};
    problem.visits = {{.options = {{.point = 3, .service = minutes{30}, .windows = {{clock(9), clock(9)}}}},
                       .must_weight = 1,
                       .after = {}},
                      {.options = {{.point = 3, .service = minutes{30}, .windows = {{clock(16), clock(16)}}}},
                       .must_weight = 1,
                       .after = {}}};
    Meal lunch;
    lunch.within = {clock(11, 30), clock(14)};
    lunch.service = minutes{45};
    lunch.candidates = {1, 2};
    problem.days = {{.earliest_call = clock(6),
                     .latest_wrap = clock(20),
                     .start = 0,
                     .ends = {0},
                     .meals = {lunch},
                     .called_at = {}}};
    return problem;
}

const Stop* meal_of(const Solution& solution) {
    const auto found = std::find_if(solution.stops.begin(), solution.stops.end(),
                                    [](const Stop& stop) { return stop.kind == StopKind::meal; });
    return found == solution.stops.end() ? nullptr : &*found;
}

void agree(const Family& family, std::uint32_t first_seed, std::uint32_t count) {
    int missing = 0;
    int bound = 0;
    for (std::uint32_t seed = first_seed; seed < first_seed + count; ++seed) {
        CAPTURE(seed);
        const Problem problem = random_problem(family, seed);
        const std::optional<Solution> answer = solved_as_by_brute_force(problem);
        if (!answer)
            continue;
        const Solution& solution = *answer;
        missing += solution.missed_meals.empty() ? 0 : 1;
        Problem always_open = problem;
        for (Day& day : always_open.days)
            for (Meal& meal : day.meals)
                meal.hours.clear();
        bound += text(solve(always_open).score) == text(solution.score) ? 0 : 1;
    }
    MESSAGE(count, " problems: hours change the score of ", bound, ", ", missing, " miss a meal");
    CHECK_MESSAGE(bound >= 30, "hours matter");
}

} // namespace

TEST_CASE("the near place is taken when it is open, waiting for it if need be") {
    Problem problem = lunch_day();
    problem.days[0].meals[0].hours = {{1, {{clock(12), clock(13)}}}};
    const Solution solution = solve(problem);
    CHECK(faults_in(problem, solution).empty());
    REQUIRE(meal_of(solution));
    CHECK(meal_of(solution)->point == 1);
    CHECK(meal_of(solution)->start == clock(12));
    CHECK_MESSAGE(meal_of(solution)->leave_by >= clock(12, 45), "the whole meal lies inside");
}

TEST_CASE("the far place is taken when the near one is shut, or open for less than the meal") {
    for (const std::vector<TimeWindow>& open : {std::vector<TimeWindow>{},
                                                {{clock(8), clock(11)}},
                                                {{clock(12), clock(12, 44)}},
                                                {{clock(13, 16), clock(22)}}}) {
        Problem problem = lunch_day();
        problem.days[0].meals[0].hours = {{1, open}};
        const Solution solution = solve(problem);
        CHECK(faults_in(problem, solution).empty());
        REQUIRE(meal_of(solution));
        CHECK(meal_of(solution)->point == 2);
    }
}

TEST_CASE("of two spans of a place the one that fits the day is used") {
    Problem problem = lunch_day();
    problem.days[0].meals[0].hours = {{1, {{clock(8), clock(12)}, {clock(13), clock(15)}}}, {2, {}}};
    const Solution solution = solve(problem);
    CHECK(faults_in(problem, solution).empty());
    REQUIRE(meal_of(solution));
    CHECK(meal_of(solution)->start == clock(13));
}

TEST_CASE("with every place shut the meal is missed, and a carried one is eaten where the crew is") {
    Problem problem = lunch_day();
    problem.days[0].meals[0].hours = {{1, {}}, {2, {{clock(5), clock(6)}}}};
    CHECK(solve(problem).missed_meals.size() == 1);
    problem.days[0].meals[0].anywhere = true;
    const Solution solution = solve(problem);
    CHECK(faults_in(problem, solution).empty());
    CHECK(solution.missed_meals.empty());
    REQUIRE(meal_of(solution));
    CHECK(meal_of(solution)->point != 1);
}

TEST_CASE("two meals at one place keep each its own hours") {
    Problem problem = lunch_day();
    Meal dinner = problem.days[0].meals[0];
    dinner.within = {clock(13), clock(20)};
    dinner.candidates = {1};
    dinner.hours = {{1, {{clock(14), clock(15)}}}};
    problem.days[0].meals[0].candidates = {1};
    problem.days[0].meals[0].hours = {{1, {{clock(11), clock(13)}}}};
    problem.days[0].meals.push_back(dinner);
    const Solution solution = solve(problem);
    CHECK(faults_in(problem, solution).empty());
    CHECK(solution.missed_meals.empty());
}

TEST_CASE("days with hours at meal points score what trying everything scores") {
    agree({.visits_from = 2, .visits_to = 4, .meals = 2, .day_length = 80, .meal_hours = true}, 200'000, 2000);
    agree({.visits_from = 2, .visits_to = 4, .meals = 3, .day_length = 80, .carried_meals = true, .meal_hours = true},
          210'000, 1000);
    agree({.visits_from = 2,
           .visits_to = 4,
           .meals = 2,
           .call_limits = true,
           .carried_meals = true,
           .open_ends = true,
           .meal_hours = true},
          220'000, 2000);
    agree({.visits_from = 2, .visits_to = 4, .days = 2, .meals = 2, .windows = 3, .day_length = 45, .meal_hours = true},
          230'000, 1000);
    agree({.visits_from = 2, .visits_to = 3, .meals = 2, .meal_hours = true, .varying = true}, 240'000, 500);
    agree({.visits_from = 3, .visits_to = 4, .meals = 2, .call_limits = true, .running_day = true, .meal_hours = true},
          250'000, 1000);
}

TEST_CASE("hours of a point that is no candidate, twice, or out of order are refused") {
    const auto refused = [](std::vector<MealHours> places, const std::string& why) {
        Problem problem = lunch_day();
        problem.days[0].meals[0].hours = std::move(places);
        try {
            solve(problem);
            return false;
        } catch (const std::invalid_argument& error) {
            return std::string(error.what()).find(why) != std::string::npos;
        }
    };
    CHECK(refused({{3, {}}}, "no candidate"));
    CHECK(refused({{1, {}}, {1, {}}}, "twice"));
    CHECK(refused({{1, {{clock(12), clock(11)}}}}, "out of order"));
    CHECK(refused({{1, {{clock(12), clock(13)}, {clock(12, 30), clock(14)}}}}, "out of order"));
}
