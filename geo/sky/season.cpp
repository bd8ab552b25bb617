#include "geo/sky/season.hpp"

#include "geo/sky/sun.hpp"

#include <cmath>

namespace geo::sky {

Instant next_season(Season season, Instant from) {
    const double wanted = 90.0 * static_cast<double>(season);
    constexpr PreciseSeconds degree_of_sun{365.2422 / 360.0 * 86400.0}; // mean motion along the ecliptic
    const auto lacking = [&](PreciseInstant when) {
        return std::remainder(wanted - sun_place(when).ecliptic_longitude.value, 360.0);
    };
    PreciseInstant when = precise(from);
    const double first = lacking(when);
    when += degree_of_sun * (first < 0.0 ? first + 360.0 : first);
    // The sun's real pace is within 3.5 % of the mean, so each round leaves a thirtieth of the error.
    for (int round = 0; round < 8; ++round)
        when += degree_of_sun * lacking(when);
    // Asked within half a second after one, rounding may have led back to it.
    return rounded(when) < from ? next_season(season, from + std::chrono::hours{24}) : rounded(when);
}

} // namespace geo::sky
