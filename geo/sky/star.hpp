#pragma once
/// Where something fixed among the stars stands; above all the centre of the Milky Way.
///
///     const auto core = geo::sky::star_position(geo::sky::galactic_centre, arch, 40_m, instant);
///
/// Airless. Aberration by the Earth's motion (at most 0.006 degrees), proper motion and parallax are left out.

#include "geo/coordinate.hpp"
#include "geo/sky/observer.hpp"
#include "geo/sky/sky_position.hpp"

namespace geo::sky {

/// On the axes of the ICRS.
struct StarPlace {
    Degrees right_ascension;
    Degrees declination;
};

/// Sagittarius A*, 17h45m40.04s -29 00' 28.1". Source: Reid and Brunthaler, Astrophysical Journal 616:872 (2004), from
/// memory. Wanted 10 to 15 degrees up or more by common practice; it culminates at 90 - |latitude + 29|.
inline constexpr StarPlace galactic_centre{{266.41683}, {-29.00781}};

/// Its direction on the axes of date, far beyond all parallax.
CelestialVector star_vector(StarPlace star, PreciseInstant when);

/// Throws std::domain_error for an invalid coordinate.
SkyPosition star_position(StarPlace star, Coordinate place, Metres elevation, Instant when);

} // namespace geo::sky
