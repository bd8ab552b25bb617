#pragma once
/// The best score by trying everything: every order, subset, option, meal, end, call and departure, second by
/// second. Written
/// from the rules in problem.hpp alone; shares no code with the solver.

#include "routing/order/solve.hpp"

#include <optional>

namespace order_tests {

/// Nothing when no solution exists. Times must be small: every second of a day is tried as its call.
std::optional<routing::order::Score> best_by_brute_force(const routing::order::Problem& problem);

} // namespace order_tests
