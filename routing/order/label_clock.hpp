#pragma once
/// A label's clock, and the steps both growing and ending a day take with it.

#include "routing/order/label.hpp"

#include <cassert>
#include <cstdint>

namespace routing::order {

inline std::int32_t narrow(Time time) {
    assert(time >= INT32_MIN && time <= INT32_MAX);
    return static_cast<std::int32_t>(time);
}

inline DayClock clock_of(const Label& label) {
    return {label.ready, label.ready, label.busy,
            label.latest_call == call_is_free ? no_limit : Time{label.latest_call}};
}

inline Time packing(const Place& place, const DayPlan& plan) {
    return place.start ? plan.pack_at_start : place.pack;
}

/// The meals a gap has at its meal point, within the point's hours; false when one can't be had.
inline bool take_meals(DayClock& clock, const Gap& gap, std::uint32_t hours, const DayPlan& plan) {
    auto open = gap.hours[hours].begin();
    for (std::uint32_t m = gap.first; m <= gap.last; ++m) {
        if (!(gap.there >> m & 1U))
            continue;
        if (hours != 0 && !start_within(clock, open->earliest, open->latest))
            return false;
        if (hours != 0)
            ++open;
        if (!take_meal(clock, plan.meals[m]))
            return false;
    }
    return true;
}

} // namespace routing::order
