#pragma once
/// Puts times to a given order of stops: forward for earliest starts, backward for the latest departures.
///
/// Reads the Problem itself, not the search's tables. What is open in a given order is the call of each day, the
/// window of each visit and the passage of each varying leg; all that can matter is tried, so an order is refused only
/// when no choice keeps the rules.

#include "routing/order/solve.hpp"

#include <optional>

namespace routing::order {

struct TimedOrder {
    std::vector<Stop> stops;
    std::vector<std::pair<std::uint32_t, std::uint32_t>> missed_meals; ///< (day, meal)
    std::int64_t travel = 0;                                           ///< seconds
    std::int64_t wrap = 0; ///< seconds, summed over days, each from its earliest call
};

/// Whether points, days, visits and meals of `stops` fit together, times aside.
bool is_well_ordered(const Problem& problem, const std::vector<Stop>& stops);

/// Nothing when the order breaks a rule; but a day without visits may be late for whatever end it has, if nothing
/// helps. Of `stops` the kinds, days, numbers and points are read. Among the calls, windows and passages that keep the
/// rules those are taken that miss the fewest due meals, then travel least and wrap earliest, in the order the economy
/// says.
std::optional<TimedOrder> time_order(const Problem& problem, const std::vector<Stop>& stops);

/// The score of a timed order.
Score score_of(const Problem& problem, const TimedOrder& timed);

} // namespace routing::order
