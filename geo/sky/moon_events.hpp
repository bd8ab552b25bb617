#pragma once
/// When the moon rises and sets, and when it is up.
///
///     for (const auto& event : geo::sky::moon_crossings(arch, 40_m, night))
///         event.when, event.rising
///
/// About once a month a civil day has no moonrise, or no moonset: that is an empty list, never a made-up time. Near the
/// poles the moon stays up or down for days.

#include "geo/interval.hpp"
#include "geo/sky/moon_view.hpp"

#include <vector>

namespace geo::sky {

struct MoonCrossing {
    Instant when;        ///< to the nearest second
    bool rising = false; ///< moonrise, else moonset
};

/// Every moonrise and moonset within the closed span, in order of time. Some seconds off by the moon's theory; real
/// moonrise moves by minutes with the air. Throws std::domain_error for an invalid coordinate.
std::vector<MoonCrossing> moon_crossings(Coordinate place, Metres elevation, Interval span);

/// Spans within `span` in which the moon's upper limb is above the horizon. All of `span` when it is up all the while,
/// none when it is down.
Intervals moon_up(Coordinate place, Metres elevation, Interval span);

} // namespace geo::sky
