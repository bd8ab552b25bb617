#pragma once
/// Refuses a malformed Problem before anything is computed from it.

#include "routing/order/problem.hpp"

namespace routing::order {

inline constexpr std::size_t most_visits = 64;
inline constexpr std::size_t most_days = 31;
inline constexpr std::size_t most_meals = 8;     ///< a day
inline constexpr std::size_t most_ends = 10000;  ///< a day
inline constexpr std::size_t most_options = 400; ///< a visit

/// Throws std::invalid_argument naming the part that is wrong.
void check_problem(const Problem& problem);

} // namespace routing::order
