#pragma once
/// How time passes on one day while the call is still open.
///
/// The call c may be anything from `call` to `latest_call`. After the stops so far the crew is ready at
/// max(ready, c + busy): `busy` is the time from call to ready with no waiting. A limit counted from the call can make
/// a later call necessary; that raises `call` and, where there is no wait left to absorb it, `ready`.
/// Same device as duration limits in routing with time windows (Tilk and Irnich 2017; from memory).
///
///     DayClock clock = call_at(earliest, latest_wrap);
///     spend(clock, leg);
///     if (start_within(clock, opens, closes)) spend(clock, service);

#include "routing/order/problem.hpp"

#include <algorithm>
#include <optional>
#include <vector>

namespace routing::order {

using Time = std::int64_t; ///< seconds since the first day's earliest call

/// Later than anything that happens; its negative is earlier.
inline constexpr Time no_limit = Time{1} << 40;

/// When something may start.
struct Span {
    Time earliest = 0;
    Time latest = 0;
    friend auto operator<=>(const Span&, const Span&) = default;
};

/// Seconds from `origin`, held inside +-no_limit.
inline Time since(Instant origin, Instant when) {
    return std::clamp(when, origin - Seconds{no_limit}, origin + Seconds{no_limit}).time_since_epoch().count() -
           origin.time_since_epoch().count();
}

/// Always call <= latest_call and call + busy <= ready.
struct DayClock {
    Time call = 0;
    Time ready = 0;
    Time busy = 0;
    Time latest_call = no_limit;
};

inline DayClock call_at(Time earliest_call, Time latest_wrap) {
    return {earliest_call, earliest_call, 0, std::max(earliest_call, latest_wrap)};
}

/// Travel, setting up, serving, packing.
inline void spend(DayClock& clock, Time length) {
    clock.ready += length;
    clock.busy += length;
}

/// Waits until something may begin; false when it is too late for every call.
inline bool start_within(DayClock& clock, Time earliest, Time latest) {
    clock.ready = std::max(clock.ready, earliest);
    clock.latest_call = std::min(clock.latest_call, latest - clock.busy);
    return clock.ready <= latest;
}

/// A meal's limits on one day.
struct MealRule {
    Time earliest = 0;
    Time latest_start = 0;
    Time service = 0;
    Time free_wrap = 0;             ///< not due when the wrap is no later
    Time free_call = no_limit;      ///< not due when the call is no earlier
    Time within_of_call = no_limit; ///< latest start after the call, where that can bind
    bool anywhere = false;
};

MealRule meal_rule(const Meal& meal, const Day& day, Instant origin);

/// When the meal may start at a point whose hours bind within its rule; nothing where they don't, empty where it can't.
std::optional<std::vector<Span>> open_starts(const Meal& meal, const MealRule& rule, Point point, Instant origin);

/// Takes a meal here and now; false when it can't be. Starting within `within_of_call` asks for a later call, which
/// costs nothing as long as the meal starts no earlier than call + busy.
inline bool take_meal(DayClock& clock, const MealRule& meal) {
    if (!start_within(clock, meal.earliest, meal.latest_start))
        return false;
    if (meal.within_of_call < no_limit) {
        if (clock.busy > meal.within_of_call || clock.ready - meal.within_of_call > clock.latest_call)
            return false;
        clock.call = std::max(clock.call, clock.ready - meal.within_of_call);
    }
    spend(clock, meal.service);
    return true;
}

/// The latest call that makes nothing later.
inline Time free_call(const DayClock& clock) {
    return std::min(clock.latest_call, clock.ready - clock.busy);
}

/// One way to end a day: the clock at the wrap, and which of the pending meals are missed (bits).
struct WrapUp {
    DayClock clock;
    std::uint32_t missed = 0;
};

/// Gives `use` every way to end a day at the wrap worth looking at: with the call as it is, and with the call raised so
/// far that one more of the `late` meals is not due. `pending`: meals not taken and not yet accounted for; `late`:
/// those of them a later call may still make not due.
template <class Use>
void wrap_up(DayClock clock, std::uint32_t pending, std::uint32_t late, const std::vector<MealRule>& meals,
             Time latest_wrap, Use&& use) {
    if (!start_within(clock, -no_limit, latest_wrap))
        return;
    const auto use_raised = [&](Time raise) {
        WrapUp end{clock, 0};
        end.clock.call = std::max(end.clock.call, raise);
        end.clock.ready = std::max(end.clock.ready, raise + end.clock.busy);
        if (end.clock.ready > latest_wrap)
            return;
        for (std::uint32_t m = 0; m < meals.size(); ++m) {
            if (!(pending >> m & 1U) || end.clock.ready <= meals[m].free_wrap)
                continue;
            if ((late >> m & 1U) && meals[m].free_call <= free_call(end.clock))
                end.clock.call = std::max(end.clock.call, meals[m].free_call);
            else
                end.missed |= 1U << m;
        }
        use(end);
    };
    use_raised(-no_limit);
    for (std::uint32_t m = 0; m < meals.size(); ++m)
        if ((late >> m & 1U) && meals[m].free_call > free_call(clock) && meals[m].free_call <= clock.latest_call)
            use_raised(meals[m].free_call);
}

} // namespace routing::order
