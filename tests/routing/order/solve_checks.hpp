#pragma once
/// What several tests of the solver ask in the same way.

#include "random_problem.hpp"
#include "routing/order/solve.hpp"

#include <cstdint>
#include <optional>
#include <string>

namespace order_tests {

/// "must / meals / worth / economy / last", for comparing with a readable failure.
std::string text(const routing::order::Score& score);

/// Solves a problem and tries everything besides: REQUIREs a proven answer of the same score that keeps the rules, or
/// none both ways. Gives the answer.
std::optional<routing::order::Solution> solved_as_by_brute_force(const routing::order::Problem& problem);

/// Solves problems of a family with 1, 30, 300 and 3000 labels: each answer must keep the rules, score no better than
/// the proven best and stay under its own bound. Every second problem has two days. Gives how many of the searches
/// were cut short.
int cut_short(Family family, std::uint32_t problems);

} // namespace order_tests
