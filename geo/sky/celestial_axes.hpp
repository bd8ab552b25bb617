#pragma once
/// From the fixed axes of the stars (GCRS) to the axes of the turning Earth's pole of date (CIRS).
///
///     const auto seen = geo::sky::on_axes_of_date(gcrs, t);
///
/// Bias, precession and nutation of IAU 2006/2000A by ERFA, interpolated between daily matrices: within 1e-4
/// arcseconds of ERFA's own, measured.

#include "geo/sky/earth_rotation.hpp"
#include "geo/sky/observer.hpp"

namespace geo::sky {

CelestialVector on_axes_of_date(const CelestialVector& gcrs, JulianDate terrestrial);

/// The same from the whole series, about 0.1 ms.
CelestialVector computed_on_axes_of_date(const CelestialVector& gcrs, JulianDate terrestrial);

/// On the ecliptic and mean equinox of date; needs no nutation and is quick.
CelestialVector on_ecliptic_of_date(const CelestialVector& gcrs, JulianDate terrestrial);

double length(const CelestialVector& vector);

} // namespace geo::sky
