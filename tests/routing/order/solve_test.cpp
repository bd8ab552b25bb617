#include "brute_force.hpp"
#include "check_solution.hpp"
#include "random_problem.hpp"
#include "routing/order/assignment.hpp"
#include "routing/order/solve.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <random>
#include <stdexcept>
#include <string>

using namespace order_tests;
using namespace routing::order;
using std::chrono::hours;
using std::chrono::minutes;

namespace {

constexpr Instant midnight{Seconds{1'778'000'000}};

TimeWindow clock(int from_minutes, int until_minutes) {
    return {midnight + minutes{from_minutes}, midnight + minutes{until_minutes}};
}

/// Points in a row, ten minutes from each to the next.
TravelMatrix row_of_points(std::uint32_t size) {
    TravelMatrix travel{size, {}};
    for (std::uint32_t a = 0; a < size; ++a)
        for (std::uint32_t b = 0; b < size; ++b)
            travel.seconds.push_back(600 * std::abs(static_cast<std::int32_t>(a) - static_cast<std::int32_t>(b)));
    return travel;
}

Visit must(Point point, int service_minutes, TimeWindow window) {
    return {{{point, minutes{service_minutes}, {}, {}, {window}}}, 1, 0, {}};
}

/// Base at point 0, a must at point 2 at ten o'clock.
Problem one_must() {
    Problem problem;
    problem.travel = row_of_points(4);
    problem.visits = {must(2, 30, clock(600, 600))};
    problem.days = {{midnight + hours{5}, midnight + hours{20}, 0, {0}, {}, {}}};
    return problem;
}

std::vector<Stop> stops_of(const Solution& solution, StopKind kind) {
    std::vector<Stop> found;
    std::copy_if(solution.stops.begin(), solution.stops.end(), std::back_inserter(found),
                 [&](const Stop& stop) { return stop.kind == kind; });
    return found;
}

/// Scenes on a land of 40 by 30 km, all of them musts, all day long but for one at seven, and a lunch at one of many
/// places.
Problem wide_day(std::uint32_t scenes, std::uint32_t meal_points, std::uint32_t seed) {
    std::mt19937 engine(seed);
    const auto roll = [&](int from, int to) {
        return from + static_cast<int>(engine() % static_cast<std::uint32_t>(to - from + 1));
    };
    Problem problem;
    const std::uint32_t size = 1 + scenes + meal_points;
    std::vector<std::pair<double, double>> at;
    for (std::uint32_t p = 0; p < size; ++p)
        at.emplace_back(roll(0, 40'000), roll(0, 30'000));
    problem.travel.size = size;
    for (const auto& [x, y] : at)
        for (const auto& [u, v] : at)
            problem.travel.seconds.push_back(static_cast<std::int32_t>(std::hypot(x - u, y - v) / 10));
    for (Point p = 1; p <= scenes; ++p)
        problem.visits.push_back(must(p, roll(20, 45), clock(7 * 60, p == 1 ? 7 * 60 : 22 * 60)));
    Meal lunch{clock(11 * 60 + 30, 14 * 60), minutes{45}, hours{8}, {}};
    for (Point p = 1 + scenes; p < size; ++p)
        lunch.candidates.push_back(p);
    problem.days = {{midnight + hours{3}, midnight + hours{23}, 0, {0}, {lunch}, {}}};
    return problem;
}

/// The same problem with its visits numbered backwards.
Problem backwards(const Problem& problem) {
    Problem turned = problem;
    const auto count = static_cast<std::uint32_t>(problem.visits.size());
    std::reverse(turned.visits.begin(), turned.visits.end());
    for (Visit& visit : turned.visits)
        for (std::uint32_t& before : visit.after)
            before = count - 1 - before;
    return turned;
}

} // namespace

TEST_CASE("the crew is called so late that the first stop has no wait") {
    const Problem problem = one_must();
    const Solution solution = solve(problem);
    CHECK(faults_in(problem, solution).empty());
    REQUIRE(solution.stops.size() == 3);
    CHECK(solution.stops[0].leave == midnight + hours{9} + minutes{40});
    CHECK(solution.stops[1].start == midnight + hours{10});
    CHECK(solution.stops[2].arrive == midnight + hours{10} + minutes{50});
    CHECK(solution.stops[0].slack == Seconds{0});
    CHECK(solution.stops[1].leave_by == midnight + hours{19} + minutes{40});
    CHECK(solution.score == Score{1, 0, 0, -40 * 60, -350 * 60});
}

TEST_CASE("setting up and packing fall away between neighbours at one place, unless a meal lies between") {
    Problem problem = one_must();
    problem.visits = {must(2, 30, clock(600, 900)), must(2, 30, clock(600, 900))};
    for (Visit& visit : problem.visits) {
        visit.options[0].setup = minutes{10};
        visit.options[0].pack = minutes{5};
    }
    const Solution straight = solve(problem);
    CHECK(straight.stops[1].end == straight.stops[1].leave);
    CHECK(straight.stops[2].start == straight.stops[1].end);
    CHECK(straight.stops[2].leave == straight.stops[2].end + minutes{5});

    problem.visits[0].options[0].windows = {clock(600, 610)};
    problem.visits[1].options[0].windows = {clock(680, 900)};
    problem.days[0].meals = {{clock(600, 680), minutes{20}, {}, {}, true}};
    const Solution fed = solve(problem);
    CHECK(faults_in(problem, fed).empty());
    REQUIRE(fed.stops.size() == 5);
    REQUIRE(fed.stops[2].kind == StopKind::meal);
    CHECK(fed.stops[1].leave == fed.stops[1].end + minutes{5});
    CHECK(fed.stops[3].start >= fed.stops[2].end + minutes{10});
}

TEST_CASE("a meal is had where it costs the crew least") {
    Problem problem = one_must();
    problem.days[0].meals = {{clock(600, 690), minutes{45}, {}, {3, 1}, false}};
    const Solution solution = solve(problem);
    const std::vector<Stop> meals = stops_of(solution, StopKind::meal);
    REQUIRE(meals.size() == 1);
    CHECK(meals[0].point == 1); // on the way home
}

TEST_CASE("no meal is due when the crew wraps before it or is called after it") {
    Problem problem = one_must();
    problem.days[0].meals = {{clock(360, 480), minutes{30}, {}, {}, false},  // 6 to 8: called after it, at 9:40
                             {clock(630, 720), minutes{45}, {}, {}, false}}; // 10:30 to 12: home at 10:50
    const Solution solution = solve(problem);
    CHECK(solution.score.meals == 0);
    CHECK(solution.missed_meals.empty());
    CHECK(faults_in(problem, solution).empty());

    // A crew already out since five has its breakfast due.
    problem.days[0].called_at = midnight + hours{5};
    const Solution running = solve(problem);
    CHECK(running.score.meals == -1);
    CHECK(running.missed_meals == std::vector<std::pair<std::uint32_t, std::uint32_t>>{{0, 0}});
}

TEST_CASE("a later call makes a meal that counts from it possible") {
    // The first visit may be done from six on; lunch, at noon, must begin within five hours of the call.
    Problem problem = one_must();
    problem.visits = {must(1, 30, clock(360, 700)), must(2, 30, clock(800, 800))};
    problem.days[0].meals = {{clock(720, 800), minutes{30}, hours{5}, {}, true}};
    const Solution solution = solve(problem);
    CHECK(faults_in(problem, solution).empty());
    CHECK(solution.score.meals == 0);
    const std::vector<Stop> meals = stops_of(solution, StopKind::meal);
    REQUIRE(meals.size() == 1);
    CHECK(meals[0].start == midnight + hours{12});
    CHECK(solution.stops[0].leave == midnight + hours{7});
}

TEST_CASE("of two ways to be ready at the same time, the one that lets the call be later may be the one to take") {
    // Both windows of the first visit leave the crew waiting for the second at 10:30. Lunch, from noon on, must begin
    // within five hours of the call: only the later window lets it.
    Problem problem = one_must();
    problem.visits = {must(1, 10, clock(360, 360)), must(2, 10, clock(630, 630)), must(1, 10, clock(810, 810))};
    problem.visits[0].options[0].windows.push_back(clock(540, 540));
    problem.days[0].meals = {{clock(720, 780), minutes{30}, hours{5}, {}, true}};
    const Solution solution = solve(problem);
    CHECK(faults_in(problem, solution).empty());
    CHECK(solution.dropped.empty());
    CHECK(solution.score.meals == 0);
}

TEST_CASE("of two ways to be ready at the same time, the one that takes less time may be the one to take") {
    // Either option of the second visit starts at 7:30, but only without the long setting up can breakfast begin within
    // an hour of the call.
    Problem problem = one_must();
    problem.visits = {must(1, 10, clock(360, 480)), must(2, 10, clock(450, 720)), must(1, 10, clock(720, 720))};
    problem.visits[1].options.push_back(problem.visits[1].options[0]);
    problem.visits[1].options[0].setup = minutes{45};
    problem.visits[1].after = {0};
    problem.days[0].meals = {{clock(460, 540), minutes{20}, hours{1}, {}, true}};
    const Solution solution = solve(problem);
    CHECK(faults_in(problem, solution).empty());
    CHECK(solution.dropped.empty());
    CHECK(solution.score.meals == 0);
    CHECK(solution.stops[2].option == 1);
}

TEST_CASE("musts come before meals, meals before worth, worth before travel") {
    Problem problem = one_must();
    problem.visits.push_back({{{3, minutes{10}, {}, {}, {clock(640, 645)}}}, 0, 50, {}});
    problem.visits.push_back(must(0, 5, clock(780, 800)));
    CHECK(solve(problem).score.worth == 50);
    // A meal at the far end of the row, too far after the wish.
    problem.travel = row_of_points(8);
    problem.days[0].meals = {{clock(640, 700), minutes{15}, {}, {7}, false}};
    Solution solution = solve(problem);
    CHECK(solution.score.meals == 0);
    CHECK(solution.dropped == std::vector<std::uint32_t>{1});
    problem.visits[1].must_weight = 1;
    solution = solve(problem);
    CHECK(solution.dropped.empty());
    CHECK(solution.score.meals == -1);
}

TEST_CASE("turnaround puts off the next call") {
    Problem problem = one_must();
    problem.turnaround = hours{10};
    problem.visits = {must(1, 30, clock(19 * 60, 19 * 60)), must(1, 30, clock(24 * 60 + 300, 24 * 60 + 420))};
    problem.days.push_back({midnight + hours{28}, midnight + hours{44}, 0, {0}, {}, {}});
    const Solution solution = solve(problem);
    CHECK(faults_in(problem, solution).empty());
    CHECK(solution.dropped.empty());
    const std::vector<Stop> starts = stops_of(solution, StopKind::start);
    const std::vector<Stop> ends = stops_of(solution, StopKind::end);
    REQUIRE(starts.size() == 2);
    CHECK(starts[1].leave == ends[0].arrive + hours{10}); // 19:40 and 5:40
    problem.turnaround = hours{12};
    CHECK(solve(problem).dropped == std::vector<std::uint32_t>{0});
}

TEST_CASE("a bed is chosen for the way there and the way on") {
    Problem problem;
    problem.travel = row_of_points(7);
    problem.visits = {must(2, 30, clock(20 * 60, 20 * 60)), must(6, 30, clock(32 * 60, 32 * 60))};
    problem.days = {{midnight + hours{5}, midnight + hours{23}, 0, {1, 4, 3}, {}, {}},
                    {midnight + hours{29}, midnight + hours{47}, std::nullopt, {5}, {}, {}}};
    const Solution solution = solve(problem);
    CHECK(faults_in(problem, solution).empty());
    const std::vector<Stop> ends = stops_of(solution, StopKind::end);
    REQUIRE(ends.size() == 2);
    // Both 3 and 4 lie on the way; 3 is reached first, so the first day wraps earlier.
    CHECK(ends[0].point == 3);
}

TEST_CASE("a day off costs nothing, a day that only moves the crew counts as travel") {
    Problem problem = one_must();
    problem.visits.clear();
    problem.days.push_back({midnight + hours{29}, midnight + hours{44}, std::nullopt, {3}, {}, {}});
    const Solution solution = solve(problem);
    CHECK(faults_in(problem, solution).empty());
    REQUIRE(solution.stops.size() == 4);
    CHECK(solution.score == Score{0, 0, 0, -30 * 60, -30 * 60});
    // Late as the crew may be, it gets home.
    problem.days[1].latest_wrap = problem.days[1].earliest_call + minutes{1};
    const Solution late = solve(problem);
    CHECK(late.score == solution.score);
    CHECK(late.stops.back().slack == -Seconds{29 * 60});
}

TEST_CASE("a day nobody can end is said to be impossible") {
    Problem problem = one_must();
    for (Point p = 1; p < 4; ++p)
        problem.travel.seconds[p * 4] = TravelMatrix::unreachable;
    problem.days[0].start = 3;
    const Solution solution = solve(problem);
    CHECK(!solution.found);
    CHECK(solution.proof == Proof::optimal);
    CHECK(solution.stops.empty());
    CHECK(solution.dropped == std::vector<std::uint32_t>{0});
}

TEST_CASE("nothing to do is a day off") {
    Problem problem;
    problem.days = {{midnight, midnight + hours{20}, std::nullopt, {}, {}, {}}};
    const Solution solution = solve(problem);
    CHECK(solution.found);
    CHECK(solution.proof == Proof::optimal);
    CHECK(solution.stops.empty());
}

TEST_CASE("twelve musts that fit anywhere in the day, and a lunch, are proven") {
    for (std::uint32_t seed = 1; seed <= 5; ++seed) {
        CAPTURE(seed);
        const Problem problem = wide_day(12, 100, seed);
        const Solution solution = solve(problem);
        CHECK(solution.proof == Proof::optimal);
        CHECK(solution.dropped.empty());
        CHECK(stops_of(solution, StopKind::meal).size() == 1);
        CHECK(faults_in(problem, solution).empty());
    }
}

TEST_CASE("sixty-four visits are taken in") {
    Problem problem;
    problem.travel = row_of_points(65);
    for (Point p = 1; p <= 64; ++p)
        problem.visits.push_back(must(p, 1, clock(static_cast<int>(300 + 12 * p), static_cast<int>(302 + 12 * p))));
    problem.days = {{midnight + hours{5}, midnight + hours{40}, 0, {0}, {}, {}}};
    const Solution solution = solve(problem);
    CHECK(solution.proof == Proof::optimal);
    CHECK(solution.dropped.empty());
    CHECK(faults_in(problem, solution).empty());
}

TEST_CASE("the same problem gives the same solution, renumbered visits the same score") {
    for (std::uint32_t seed = 1; seed <= 40; ++seed) {
        CAPTURE(seed);
        const Problem problem = random_problem(
            {.visits_from = 5, .visits_to = 9, .days = 2, .meals = 2, .day_length = 100, .call_limits = true}, seed);
        const Solution once = solve(problem);
        const Solution again = solve(problem);
        CHECK(once.stops == again.stops);
        CHECK(once.labels == again.labels);
        CHECK(once.score == again.score);
        CHECK(solve(backwards(problem)).score == once.score);
    }
}

TEST_CASE("a clock stops the search, and the bound still holds") {
    const Problem problem = wide_day(30, 100, 7);
    const Solution solution = solve(problem, {.time = Seconds{1}});
    CHECK(faults_in(problem, solution).empty());
    CHECK(solution.bound >= solution.score);
}

TEST_CASE("malformed problems are refused") {
    const auto refused = [](auto&& spoil) {
        Problem problem = one_must();
        spoil(problem);
        CHECK_THROWS_AS(solve(problem), std::invalid_argument);
    };
    refused([](Problem& p) { p.visits[0].options[0].point = 4; });
    refused([](Problem& p) { p.visits[0].options.clear(); });
    refused([](Problem& p) { p.visits[0].options[0].service = minutes{-1}; });
    refused([](Problem& p) { p.visits[0].options[0].setup = Seconds{longest_leg + 1}; });
    refused([](Problem& p) { p.visits[0].options[0].windows = {clock(700, 600)}; });
    refused([](Problem& p) { p.visits[0].options[0].windows = {clock(600, 700), clock(650, 800)}; });
    refused([](Problem& p) { p.visits[0].worth = -1; });
    refused([](Problem& p) { p.visits[0].must_weight = 1 << 21; });
    refused([](Problem& p) { p.visits[0].after = {0}; });
    refused([](Problem& p) { p.visits[0].after = {1}; });
    refused([](Problem& p) {
        p.visits.push_back(p.visits[0]);
        p.visits[0].after = {1};
        p.visits[1].after = {0};
    });
    refused([](Problem& p) { p.visits.resize(65, p.visits[0]); });
    refused([](Problem& p) { p.days.clear(); });
    refused([](Problem& p) { p.days.resize(32, p.days[0]); });
    refused([](Problem& p) { p.days[0].start = 4; });
    refused([](Problem& p) { p.days[0].ends = {4}; });
    refused([](Problem& p) { p.days[0].latest_wrap = Instant::max(); });
    refused([](Problem& p) { p.days[0].pack_at_start = minutes{-1}; });
    refused([](Problem& p) {
        p.days[0].start.reset();
        p.days[0].set_up_at_start = true;
    });
    refused([](Problem& p) {
        p.days.push_back(p.days[0]);
        p.days[1].earliest_call -= minutes{1};
    });
    refused([](Problem& p) { p.days[0].meals = {{clock(600, 500), {}, {}, {}, true}}; });
    refused([](Problem& p) { p.days[0].meals = {{clock(600, 700), {}, {}, {9}, true}}; });
    refused([](Problem& p) { p.days[0].meals.resize(9, {clock(600, 700), {}, {}, {}, true}); });
    refused([](Problem& p) { p.turnaround = minutes{-1}; });
    refused([](Problem& p) { p.travel.seconds.pop_back(); });
    refused([](Problem& p) { p.travel.seconds[1] = -1; });
    refused([](Problem& p) { p.travel.seconds[1] = TravelMatrix::unreachable - 1; });
}

TEST_CASE("prices of an assignment add up to its least cost") {
    std::mt19937 engine(5);
    for (std::size_t n = 1; n <= 6; ++n)
        for (int round = 0; round < 20; ++round) {
            std::vector<std::int64_t> costs(n * n);
            for (std::int64_t& cost : costs)
                cost = static_cast<std::int64_t>(engine() % 50U);
            std::vector<std::size_t> columns(n);
            std::iota(columns.begin(), columns.end(), std::size_t{0});
            std::int64_t least = INT64_MAX;
            do {
                std::int64_t sum = 0;
                for (std::size_t r = 0; r < n; ++r)
                    sum += costs[r * n + columns[r]];
                least = std::min(least, sum);
            } while (std::next_permutation(columns.begin(), columns.end()));
            const std::vector<std::int64_t> prices = row_prices(costs, n);
            std::int64_t sum = std::accumulate(prices.begin(), prices.end(), std::int64_t{0});
            for (std::size_t c = 0; c < n; ++c) {
                std::int64_t column = INT64_MAX;
                for (std::size_t r = 0; r < n; ++r)
                    column = std::min(column, costs[r * n + c] - prices[r]);
                sum += column;
            }
            CHECK(sum == least);
        }
}
