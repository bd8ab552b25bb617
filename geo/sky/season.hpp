#pragma once
/// Equinoxes and solstices.
///
///     const geo::Instant midsummer = geo::sky::next_season(geo::sky::Season::june_solstice, now);

#include "geo/units.hpp"

namespace geo::sky {

/// Apparent geocentric ecliptic longitude of the sun 0, 90, 180, 270 degrees.
/// Source: Meeus, Astronomical Algorithms (1998), chapter 27.
enum class Season { march_equinox, june_solstice, september_equinox, december_solstice };

/// The first at or after `from`, to the nearest second; some seconds off Meeus' table at most.
Instant next_season(Season season, Instant from);

} // namespace geo::sky
