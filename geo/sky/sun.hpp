#pragma once
/// Where the sun stands, and when it crosses an altitude.
///
///     const auto now = geo::sky::sun_position(arch, 40_m, instant);
///     now.altitude, now.azimuth

#include "geo/coordinate.hpp"
#include "geo/interval.hpp"

#include <vector>

namespace geo::sky {

/// Centre of the disc; altitude above the astronomical horizon, azimuth clockwise from true north, 0 to 360.
struct SkyPosition {
    Degrees altitude;
    Degrees azimuth;
};

/// Topocentric, airless (no refraction). Throws std::domain_error for an invalid coordinate.
SkyPosition sun_position(Coordinate place, Metres elevation, Instant when);

} // namespace geo::sky
