#pragma once
/// Where the moon stands and how much of it is lit.
///
///     const auto now = geo::sky::moon_position(arch, 40_m, instant);
///     geo::sky::moon_illumination(geo::sky::precise(instant)).fraction
///
/// Moon by ERFA's eraMoon98 (Meeus' form of ELP-2000/82) at the time the light left it; no annual aberration is added,
/// for the geocentric motion used for light time has it already. Against ELP/MPP02 over 1950-2100: 2.9 arcseconds rms,
/// 18.3 worst (the routine's notes), which moves moonrise by some three seconds. Measured: docs/light.md.

#include "geo/coordinate.hpp"
#include "geo/sky/earth_rotation.hpp"
#include "geo/sky/observer.hpp"
#include "geo/sky/precise_instant.hpp"
#include "geo/sky/sky_position.hpp"

namespace geo::sky {

/// Centre of the disc; topocentric, airless (no refraction). Throws std::domain_error for an invalid coordinate.
SkyPosition moon_position(Coordinate place, Metres elevation, Instant when);

/// Apparent geocentric place of the moon. Interpolated between places every three hours, kept by each thread: under a
/// microsecond a call once they are known, within 0.001 arcseconds of `computed_moon_vector`.
CelestialVector moon_vector(PreciseInstant when);

/// The same computed from the series.
CelestialVector computed_moon_vector(JulianDate terrestrial);

/// Half the angle the moon's disc spans, 0.245 to 0.279 degrees: asin(1737.4 km / distance).
Degrees moon_semidiameter(const CelestialVector& moon);

/// How the sun lights the moon, seen from the Earth's centre; from a site it differs by 0.01 at most.
struct MoonIllumination {
    double fraction = 0.0; ///< of the disc, 0 new to 1 full
    Degrees phase_angle;   ///< sun-moon-Earth, 0 full to 180 new
};
/// Source: Meeus, Astronomical Algorithms (1998), chapter 48.
MoonIllumination moon_illumination(PreciseInstant when);

/// Apparent ecliptic longitude of the moon minus the sun's, 0 to 360: 0 new, 90 first quarter, 180 full, 270 last
/// quarter.
Degrees moon_elongation(PreciseInstant when);

/// Geocentric place as almanacs print it, true equator and equinox of date.
struct MoonPlace {
    Degrees right_ascension;     ///< 0 to 360
    Degrees declination;         ///< north positive
    Degrees ecliptic_longitude;  ///< apparent, 0 to 360
    Degrees ecliptic_latitude;   ///< north positive
    Metres distance;             ///< between the centres
    Degrees horizontal_parallax; ///< equatorial
};
MoonPlace moon_place(PreciseInstant when);

} // namespace geo::sky
