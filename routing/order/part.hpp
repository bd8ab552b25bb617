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
    Time ready = 0;
    VisitSet done = 0;
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
};

/// The whole problem.
inline Part whole(const Instance& instance) {
    Part part{instance.visits == 64 ? ~VisitSet{0} : (VisitSet{1} << instance.visits) - 1, {}};
    for (std::uint32_t day = 0; day < instance.days.size(); ++day)
        part.days.push_back({.day = day, .carries_on = day + 1 < instance.days.size()});
    part.days.front().place = instance.first_start;
    part.days.front().ready = instance.days.front().earliest_call;
    return part;
}

} // namespace routing::order
