#pragma once
/// Legs that depend on the hour of departure, as the search and the timing see them.
///
/// A passage is a window for the departure, just as a visit has windows for its start: the crew may wait for it at the
/// stop it leaves. So whoever is ready earlier can do what one ready later can, at no more travel, and all that holds
/// for windows (of ready times, of the call) holds for passages.

#include "routing/order/day_clock.hpp"

#include <map>
#include <utility>
#include <vector>

namespace routing::order {

/// A passage in whole seconds from the first call.
struct Departure {
    Time earliest = 0;
    Time latest = 0;
    Time seconds = 0;
};
using Departures = std::vector<Departure>;

/// The varying legs of a problem; pointers to its lists stay good when it is moved.
class VaryingLegs {
public:
    VaryingLegs() = default;
    VaryingLegs(const Problem& problem, Instant origin);

    bool empty() const { return legs_.empty(); }
    /// Nothing for a leg that holds at every hour.
    const Departures* between(Point from, Point to) const {
        if (legs_.empty())
            return nullptr;
        const auto leg = legs_.find({from, to});
        return leg == legs_.end() ? nullptr : &leg->second;
    }

private:
    std::map<std::pair<Point, Point>, Departures> legs_;
};

/// Waits for the departure; false when it is over for every call.
inline bool depart_within(DayClock& clock, const Departure& departure) {
    if (clock.latest_call < no_limit)
        return start_within(clock, departure.earliest, departure.latest);
    clock.ready = std::max(clock.ready, departure.earliest); // the call is forgotten, and stays so
    return clock.ready <= departure.latest;
}

/// Gives `use` the clock at the arrival and the travel, for each way to go: at once in `seconds`, or by `departures`.
template <class Use>
void take_leg(DayClock clock, Time seconds, const Departures* departures, Use&& use) {
    if (!departures) [[likely]] {
        spend(clock, seconds);
        use(clock, seconds);
        return;
    }
    for (const Departure& departure : *departures) {
        DayClock there = clock;
        if (!depart_within(there, departure))
            continue;
        spend(there, departure.seconds);
        use(there, departure.seconds);
    }
}

/// The earliest departure of a crew ready to leave, by passages of `seconds`; no_limit: they are over.
Time earliest_departure(const Departures& departures, Time ready, Time seconds);

/// The latest departure that arrives by `arrival`, by passages of at most `longest` seconds; -no_limit: none does.
Time latest_departure(const Departures& departures, Time arrival, Time longest);

/// The end of the passages of `seconds` that hold a departure at `leave`: as late as it may be and go the same way.
Time end_of_passage(const Departures& departures, Time leave, Time seconds);

} // namespace routing::order
