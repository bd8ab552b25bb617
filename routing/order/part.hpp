#pragma once
/// Part of a problem to be searched: some of its days, and the visits that may be done on them. What lies on the days
/// between and after stays as it is and sets limits.
///
///     Search(instance, detours, whole(instance), limits) // all days, all visits

#include "routing/order/instance.hpp"

#include <vector>

namespace routing::order {

struct PartDay {
    std::uint32_t day = 0;
    /// Where and when its crew may be called, and what is done by then; told by the day before when that carries on.
    std::uint32_t place = 0;
    std::vector<std::uint32_t> other_places{}; ///< of the part's first day: where it may begin as well
    Time ready = 0;
    VisitSet done = 0;
    std::uint8_t waived = 0; ///< meals (bits) that are not due
    /// The next day of the part is the very next day, and open likewise. Else the next three hold.
    bool carries_on = false;
    std::vector<bool> nights{}; ///< place -> whether it may be slept at; none: anywhere
    VisitSet required = 0;      ///< visits to be done by its end: others come after them
    Time deadline = no_limit;   ///< the next stop after the night is to be reached by then, turnaround kept
    std::vector<Time> onward{}; ///< place -> travel to that stop; `no_way`: not to be slept at. None: any, no travel
};

struct Part {
    VisitSet free = 0;         ///< visits that may be done
    std::vector<PartDay> days; ///< in order; at least one
    /// Of each visit, instead of its must weight and worth; cost then counts for nothing. None: as the problem says.
    std::vector<std::int64_t> value{};
};

/// The whole problem.
Part whole(const Instance& instance);

/// Whether the part has a day with time enough to do `second`, a way of the instance, right after `first`.
bool may_follow(const Instance& instance, const Part& part, const Way& first, const Way& second);

} // namespace routing::order
