// How good plans of a week are, and what one beam over all days finds with as many labels.
//
//     bench_order_week              40 scenes in 5 days, 60 in 6, three of each
//     bench_order_week 40 5 7 60    40 scenes, 5 days, seed 7, 60 beds a night
//
// first: processor seconds to a first plan, as for a crew that asks for no more labels than that; then what the whole
// search has: musts, due meals missed, worth, the worth no plan exceeds, and by how much that is more.

#include "routing/order/solve.hpp"
#include "tests/routing/order/made_week.hpp"

#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <string>

using namespace routing::order;

namespace {

constexpr std::uint64_t first_labels = 2'000'000;

struct Run {
    Solution solution;
    double seconds = 0; ///< of the processor
};

Run solve_timed(const Problem& problem, const SolveLimits& limits) {
    const std::clock_t begin = std::clock();
    Run run;
    run.solution = solve(problem, limits);
    run.seconds = static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC;
    return run;
}

void print(const char* name, const Run& run) {
    const Score& score = run.solution.score;
    const Score& bound = run.solution.bound;
    std::string gap = "-";
    if (run.solution.proof == Proof::optimal)
        gap = "proven";
    else if (bound.must_weight == score.must_weight && bound.meals == score.meals && score.worth > 0)
        gap = std::to_string(100 * (bound.worth - score.worth) / score.worth) + " %";
    std::printf(
        "  %-10s %6.2f s %6.1f M labels  musts %2d of at most %2d  missed %d  worth %4d of at most %4d  gap %s\n", name,
        run.seconds, static_cast<double>(run.solution.labels) / 1e6, static_cast<int>(score.must_weight),
        static_cast<int>(bound.must_weight), static_cast<int>(-score.meals), static_cast<int>(score.worth),
        static_cast<int>(bound.worth), gap.c_str());
    std::fflush(stdout);
}

void compare(const order_tests::WeekSize& size, std::uint32_t seed) {
    const Problem problem = order_tests::made_week(size, seed);
    std::int64_t musts = 0;
    std::int64_t worth = 0;
    for (const Visit& visit : problem.visits) {
        musts += visit.must_weight;
        worth += visit.worth;
    }
    std::printf("%u scenes, %u days, %u beds, seed %u: %d musts, worth %d\n", size.scenes, size.days, size.beds, seed,
                static_cast<int>(musts), static_cast<int>(worth));
    print("first", solve_timed(problem, {.labels = first_labels}));
    const Run whole = solve_timed(problem, {});
    print("all", whole);
    print("one beam", solve_timed(problem, {.labels = whole.solution.labels, .improve_labels = 0}));
}

} // namespace

int main(int count, char** arguments) {
    const auto number = [&](int i) { return static_cast<std::uint32_t>(std::atoi(arguments[i])); };
    if (count > 3) {
        compare({.scenes = number(1), .days = number(2), .beds = count > 4 ? number(4) : 60}, number(3));
        return 0;
    }
    for (const std::uint32_t seed : {1U, 2U, 3U})
        compare({.scenes = 40, .days = 5}, seed);
    for (const std::uint32_t seed : {1U, 2U, 3U})
        compare({.scenes = 60, .days = 6}, seed);
    compare({.scenes = 40, .days = 5, .beds = 0}, 1);
    return 0;
}
