#pragma once
/// Where the specification says one thing and people who write such texts often mean another. Found once, from the
/// rules alone; `day_plan` then answers unknown for what hangs on it.
///
///     "Mo-Fr 08:00-12:00; Mo-Fr 14:00-18:00"  // by the specification the morning is gone: nobody writes a dead rule
///     "Mo-Fr 10:00-12:00; 13:00-17:00"        // by the specification open at weekends too
///     "Jun-Aug: Mo-Fr 10:00-18:00, Sa 10:00-14:00" // by the specification Saturdays all year

#include "routing/hours/rules.hpp"

#include <optional>
#include <vector>

namespace routing::hours {

struct Doubts {
    /// Later rules take the place of this one on every weekday it names.
    bool shadowed = false;
    /// This rule has times only and follows a rule with days: it may hold on that rule's days alone.
    std::optional<std::size_t> days_of;
    /// This rule was added with a comma to one that holds in a part of the year: it may hold then alone.
    std::optional<std::size_t> season_of;
};

/// One for each rule. Cost: O(rules²).
std::vector<Doubts> find_doubts(const std::vector<Rule>& rules);

} // namespace routing::hours
