#include "geo/sky/season.hpp"

#include "geo/sky/sun.hpp"

#include <cmath>

namespace geo::sky {

namespace {

/// The first after `from`, or one up to half a second before it.
Instant solve(double longitude, PreciseInstant from) {
    constexpr PreciseSeconds degree_of_sun{365.2422 / 360.0 * 86400.0}; // mean motion along the ecliptic
    const auto lacking = [&](PreciseInstant when) {
        return std::remainder(longitude - sun_place(when).ecliptic_longitude.value, 360.0);
    };
    const double first = lacking(from);
    PreciseInstant when = from + degree_of_sun * (first < 0.0 ? first + 360.0 : first);
    // The sun's real pace is within 3.5 % of the mean, so each round leaves a thirtieth of the error.
    for (int round = 0; round < 8; ++round)
        when += degree_of_sun * lacking(when);
    return rounded(when);
}

} // namespace

Instant next_season(Season season, Instant from) {
    const double longitude = 90.0 * static_cast<double>(season);
    const Instant found = solve(longitude, precise(from));
    return found < from ? solve(longitude, precise(from + std::chrono::hours{24})) : found;
}

} // namespace geo::sky
