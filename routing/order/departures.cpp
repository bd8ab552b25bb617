#include "routing/order/departures.hpp"

namespace routing::order {

VaryingLegs::VaryingLegs(const Problem& problem, Instant origin) {
    for (const VaryingLeg& leg : problem.varying) {
        Departures& departures = legs_[{leg.from, leg.to}];
        for (const Passage& passage : leg.passages)
            departures.push_back(
                {since(origin, passage.departure.earliest), since(origin, passage.departure.latest), passage.seconds});
    }
}

Time earliest_departure(const Departures& departures, Time ready, Time seconds) {
    Time earliest = no_limit;
    for (const Departure& departure : departures)
        if (departure.seconds == seconds && ready <= departure.latest)
            earliest = std::min(earliest, std::max(departure.earliest, ready));
    return earliest;
}

Time latest_departure(const Departures& departures, Time arrival, Time longest) {
    Time latest = -no_limit;
    for (const Departure& departure : departures)
        if (departure.seconds <= longest && departure.earliest <= arrival - departure.seconds)
            latest = std::max(latest, std::min(departure.latest, arrival - departure.seconds));
    return latest;
}

Time end_of_passage(const Departures& departures, Time leave, Time seconds) {
    Time end = leave;
    for (const Departure& departure : departures)
        if (departure.seconds == seconds && departure.earliest <= leave && leave <= departure.latest)
            end = std::max(end, departure.latest);
    return end;
}

} // namespace routing::order
