#pragma once
/// Where something stands in the sky.

#include "geo/units.hpp"

namespace geo::sky {

/// Altitude above the astronomical horizon, azimuth clockwise from true north, 0 <= azimuth < 360.
struct SkyPosition {
    Degrees altitude;
    Degrees azimuth;
};

} // namespace geo::sky
