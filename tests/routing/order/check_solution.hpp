#pragma once
/// An independent reading of a solution: every rule of problem.hpp, every time, leave-by and score, worked out afresh
/// from the stops. Shares no code with the solver.

#include "routing/order/solve.hpp"

#include <string>
#include <vector>

namespace order_tests {

/// Everything that is wrong with the solution, in words; empty when it keeps all rules.
std::vector<std::string> faults_in(const routing::order::Problem& problem, const routing::order::Solution& solution);

} // namespace order_tests
