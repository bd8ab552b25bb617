#pragma once
/// Where the sun stands.
///
///     const auto now = geo::sky::sun_position(arch, 40_m, instant);
///     now.altitude, now.azimuth
///
/// Sun by ERFA's eraEpv00 (heliocentric Earth fitted to JPL DE405), light time, aberration, and bias, precession and
/// nutation of IAU 2006/2000A; WGS 84 site. Valid for 1900 to 2100 as eraEpv00 is; other years give a rougher place.
/// Measured against JPL DE405 at 500 places and times of 2020 to 2035: see docs/light.md.

#include "geo/coordinate.hpp"
#include "geo/sky/earth_rotation.hpp"
#include "geo/sky/observer.hpp"
#include "geo/sky/precise_instant.hpp"
#include "geo/sky/sky_position.hpp"

namespace geo::sky {

/// Centre of the disc; topocentric, airless (no refraction). Throws std::domain_error for an invalid coordinate.
SkyPosition sun_position(Coordinate place, Metres elevation, Instant when);

/// Apparent geocentric place of the sun. Interpolated between daily places, which are kept by each thread: about a
/// microsecond a call once its days are known, within 5e-5 arcseconds of `computed_sun_vector`.
CelestialVector sun_vector(PreciseInstant when);

/// The same computed from the series, about 0.1 ms; does not depend on what was asked before, nor does `sun_vector`.
CelestialVector computed_sun_vector(JulianDate terrestrial);

/// Sun as seen from the Earth's centre, light time and aberration applied, on the fixed axes of the stars (GCRS).
CelestialVector apparent_sun_in_gcrs(JulianDate terrestrial);

/// Half the angle the sun's disc spans, 0.262 to 0.272 degrees: asin(696 000 km / distance).
Degrees sun_semidiameter(const CelestialVector& sun);

using AstronomicalUnits = Quantity<struct AstronomicalUnit>;

/// Geocentric place as almanacs print it, true equator and equinox of date.
struct SunPlace {
    Degrees right_ascension;         ///< 0 to 360
    Degrees declination;             ///< north positive
    Degrees ecliptic_longitude;      ///< apparent, 0 to 360; 0 at the March equinox
    AstronomicalUnits distance;      ///< from the Earth's centre
    PreciseSeconds equation_of_time; ///< apparent minus mean solar time
};
SunPlace sun_place(PreciseInstant when);

} // namespace geo::sky
