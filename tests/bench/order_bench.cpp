// How long the ordering problem takes: invented days of 6 to 14 scenes with a lunch found among 200 places.
//
//     bench_order            all of it
//     bench_order 12 20      days of 12 scenes, 20 of them
//
// "light" days have the narrow windows of daylight, most scenes musts; "wide" days have musts only, all day long.
// Up to 7 scenes every order is tried as well, on the same day with its call fixed, and the scores must agree.

#include "routing/order/solve.hpp"
#include "tests/routing/order/brute_force.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <random>
#include <string>
#include <vector>

using namespace routing::order;
using std::chrono::hours;
using std::chrono::minutes;

namespace {

constexpr std::uint32_t meal_points = 200;

class Dice {
public:
    explicit Dice(std::uint32_t seed) : engine_(seed) {}
    int roll(int from, int to) {
        return from + static_cast<int>(engine_() % static_cast<std::uint32_t>(to - from + 1));
    }

private:
    std::mt19937 engine_;
};

/// A land of 40 by 30 km; roads wind by a third, 50 km/h.
TravelMatrix land(Dice& dice, std::uint32_t points) {
    std::vector<std::pair<double, double>> at;
    for (std::uint32_t p = 0; p < points; ++p)
        at.emplace_back(dice.roll(0, 40'000), dice.roll(0, 30'000));
    TravelMatrix travel{points, {}};
    for (const auto& [x, y] : at)
        for (const auto& [u, v] : at)
            travel.seconds.push_back(static_cast<std::int32_t>(std::hypot(x - u, y - v) * 1.33 / (50 / 3.6)) + 60);
    return travel;
}

/// Sunrise 04:30, sunset 22:10: windows as such a day gives them.
std::vector<TimeWindow> light(Dice& dice, Instant midnight) {
    const auto window = [&](int from, int until) {
        return TimeWindow{midnight + minutes{from}, midnight + minutes{until}};
    };
    switch (dice.roll(0, 6)) {
    case 0:
        return {window(4 * 60, 5 * 60 + 20)}; // golden morning
    case 1:
        return {window(21 * 60, 22 * 60)}; // golden evening
    case 2:
        return {window(4 * 60, 5 * 60 + 20), window(21 * 60, 22 * 60)};
    case 3:
        return {window(11 * 60, 15 * 60)}; // high sun
    case 4:
        return {window(6 * 60, 9 * 60 + 30), window(17 * 60, 20 * 60)}; // low sun
    default: {
        const int from = dice.roll(7, 17) * 60; // by the clock
        return {window(from, from + dice.roll(2, 5) * 60)};
    }
    }
}

Problem invented_day(std::uint32_t scenes, bool wide, std::uint32_t seed) {
    Dice dice(seed * 1000 + scenes * 2 + (wide ? 1 : 0));
    const Instant midnight{Seconds{1'778'000'000}};
    Problem problem;
    problem.travel = land(dice, 1 + scenes + meal_points);
    for (std::uint32_t s = 0; s < scenes; ++s) {
        Option option{1 + s, minutes{dice.roll(2, 8) * (wide ? 3 : 5)}, minutes{10}, minutes{5}, {}};
        option.windows =
            wide ? std::vector<TimeWindow>{{midnight + hours{4}, midnight + hours{22}}} : light(dice, midnight);
        const bool must = wide || dice.roll(1, 10) <= 6;
        problem.visits.push_back({{option}, must ? 1 : 0, must ? 0 : dice.roll(10, 100), {}});
    }
    Meal lunch{{midnight + hours{11} + minutes{30}, midnight + hours{14}}, minutes{45}, hours{8}, {}};
    for (Point p = 1 + scenes; p < problem.travel.size; ++p)
        lunch.candidates.push_back(p);
    problem.days.push_back({midnight + hours{3}, midnight + hours{23} + minutes{30}, 0, {0}, {lunch}, {}});
    return problem;
}

/// Processor seconds: other work on the machine does not count.
double seconds_of(auto&& work) {
    const std::clock_t begin = std::clock();
    work();
    return static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC;
}

void run(std::uint32_t scenes, bool wide, std::uint32_t days) {
    std::vector<double> times;
    std::vector<std::uint64_t> labels;
    std::uint32_t proven = 0;
    for (std::uint32_t seed = 0; seed < days; ++seed) {
        const Problem problem = invented_day(scenes, wide, seed);
        Solution solution;
        times.push_back(1000 * seconds_of([&] { solution = solve(problem); }));
        labels.push_back(solution.labels);
        proven += solution.proof == Proof::optimal ? 1 : 0;
    }
    std::sort(times.begin(), times.end());
    std::sort(labels.begin(), labels.end());
    std::printf("%-5s %2u scenes  %2u of %2u proven  median %9.2f ms  max %9.2f ms  labels median %9llu  max %9llu\n",
                wide ? "wide" : "light", scenes, proven, days, times[days / 2], times.back(),
                static_cast<unsigned long long>(labels[days / 2]), static_cast<unsigned long long>(labels.back()));
    std::fflush(stdout);
}

void compare(std::uint32_t scenes, bool wide) {
    Problem problem = invented_day(scenes, wide, 1);
    problem.days[0].called_at = problem.days[0].earliest_call;
    problem.days[0].meals[0].within_of_call.reset();
    std::optional<Score> best;
    Solution solution;
    const double by_force = seconds_of([&] { best = order_tests::best_by_brute_force(problem); });
    const double by_labels = seconds_of([&] { solution = solve(problem); });
    std::printf("%-5s %2u scenes  all orders %9.2f ms  labels %7.2f ms  ratio %8.0f  scores %s\n",
                wide ? "wide" : "light", scenes, 1000 * by_force, 1000 * by_labels, by_force / by_labels,
                best && *best == solution.score ? "agree" : "DIFFER");
    std::fflush(stdout);
}

} // namespace

int main(int count, char** arguments) {
    if (count > 1) {
        const auto number = [&](int i) { return static_cast<std::uint32_t>(std::atoi(arguments[i])); };
        const std::uint32_t days = count > 2 ? number(2) : 20;
        run(number(1), false, days);
        run(number(1), true, days);
        return 0;
    }
    for (const std::uint32_t scenes : {6U, 8U, 10U, 12U, 14U})
        run(scenes, false, 20);
    for (const std::uint32_t scenes : {6U, 8U, 10U, 12U, 14U})
        run(scenes, true, scenes < 14 ? 20 : 5);
    for (const std::uint32_t scenes : {5U, 6U, 7U})
        for (const bool wide : {false, true})
            if (scenes < 7 || !wide)
                compare(scenes, wide);
    return 0;
}
