#pragma once
/// When the sun rises, sets or crosses an altitude.
///
///     for (const auto& event : geo::sky::sun_crossings(arch, 40_m, geo::sky::HorizonRule::upper_limb, day))
///         event.when, event.rising
///
/// No crossing is an empty list, never a made-up time: the sun then stays above or below all the while.

#include "geo/interval.hpp"
#include "geo/sky/sun_view.hpp"

#include <vector>

namespace geo::sky {

struct SunCrossing {
    Instant when;        ///< to the nearest second
    bool rising = false; ///< upwards through the line
};

/// Every crossing within the closed span, in order of time; pairs within an hour, as at the edge of the midnight sun,
/// included. Against the definition good to a second; real sunrise moves by minutes with the air
/// (`geo/sky/refraction.hpp`). Throws std::domain_error for an invalid coordinate.
std::vector<SunCrossing> sun_crossings(Coordinate place, Metres elevation, const SunLine& line, Interval span);

} // namespace geo::sky
