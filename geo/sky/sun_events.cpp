#include "geo/sky/sun_events.hpp"

#include "geo/sky/crossing_search.hpp"

namespace geo::sky {

std::vector<SunCrossing> sun_crossings(Coordinate place, Metres elevation, const SunLine& line, Interval span) {
    const SunView view(place, elevation);
    const auto height = [&](PreciseInstant when) { return view.height_above(line, when).value; };
    std::vector<SunCrossing> crossings;
    for (const Crossing& crossing : find_crossings(height, {precise(span.from), precise(span.until)}))
        crossings.push_back({rounded(crossing.when), crossing.rising});
    return crossings;
}

} // namespace geo::sky
