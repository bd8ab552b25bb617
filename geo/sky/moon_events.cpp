#include "geo/sky/moon_events.hpp"

#include "geo/sky/crossing_search.hpp"

namespace geo::sky {

std::vector<MoonCrossing> moon_crossings(Coordinate place, Metres elevation, Interval span) {
    const MoonView view(place, elevation);
    const auto height = [&](PreciseInstant when) { return view.height_above_horizon(when).value; };
    std::vector<MoonCrossing> crossings;
    for (const Crossing& crossing : find_crossings(height, {precise(span.from), precise(span.until)}))
        crossings.push_back({rounded(crossing.when), crossing.rising});
    return crossings;
}

Intervals moon_up(Coordinate place, Metres elevation, Interval span) {
    const auto crossings = moon_crossings(place, elevation, span);
    const bool up_at_first = crossings.empty()
                                 ? MoonView(place, elevation).height_above_horizon(precise(span.from)) >= Degrees{0.0}
                                 : !crossings.front().rising;
    Intervals up;
    if (up_at_first)
        up.push_back(span);
    for (const MoonCrossing& crossing : crossings) {
        if (crossing.rising)
            up.push_back({crossing.when, span.until});
        else
            up.back().until = crossing.when;
    }
    return up;
}

} // namespace geo::sky
