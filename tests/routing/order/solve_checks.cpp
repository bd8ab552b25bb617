#include "solve_checks.hpp"

#include "brute_force.hpp"
#include "check_solution.hpp"

#include <doctest/doctest.h>

namespace order_tests {

using namespace routing::order;

std::string text(const Score& score) {
    return std::to_string(score.must_weight) + " / " + std::to_string(score.meals) + " / " +
           std::to_string(score.worth) + " / " + std::to_string(score.economy) + " / " + std::to_string(score.last);
}

std::optional<Solution> solved_as_by_brute_force(const Problem& problem) {
    const std::optional<Score> best = best_by_brute_force(problem);
    Solution solution = solve(problem);
    REQUIRE(solution.proof == Proof::optimal);
    REQUIRE(solution.found == best.has_value());
    if (!best)
        return std::nullopt;
    REQUIRE(text(solution.score) == text(*best));
    for (const std::string& fault : faults_in(problem, solution))
        FAIL(fault);
    return solution;
}

int cut_short(Family family, std::uint32_t problems) {
    int bounded = 0;
    for (std::uint32_t seed = 1; seed <= problems; ++seed) {
        CAPTURE(seed);
        family.days = 1 + seed % 2;
        const Problem problem = random_problem(family, seed);
        const Solution whole = solve(problem);
        REQUIRE(whole.proof == Proof::optimal);
        for (const std::uint64_t labels : {1U, 30U, 300U, 3000U}) {
            const Solution cut = solve(problem, {.labels = labels});
            REQUIRE(cut.bound >= whole.score);
            if (!cut.found)
                continue; // not even days without visits can be had, and nothing else was found in time
            REQUIRE(cut.score <= whole.score);
            for (const std::string& fault : faults_in(problem, cut))
                FAIL(fault);
            bounded += cut.proof == Proof::bounded ? 1 : 0;
        }
    }
    MESSAGE(bounded, " of ", 4 * problems, " searches were cut short");
    return bounded;
}

} // namespace order_tests
