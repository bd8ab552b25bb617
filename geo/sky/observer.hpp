#pragma once
/// A site on the ellipsoid, looking at something in the sky.
///
///     const geo::sky::Observer observer(arch, 40_m);
///     const auto sun = observer.view(geo::sky::sun_vector(t), t);
///
/// Airless. Parallax and diurnal aberration included; polar motion (at most 0.55 arcseconds) left out.

#include "geo/coordinate.hpp"
#include "geo/sky/precise_instant.hpp"
#include "geo/sky/sky_position.hpp"

#include <array>

namespace geo::sky {

/// From the Earth's centre, in astronomical units, on the axes of the celestial intermediate system of date (CIRS:
/// pole of date, origin of right ascension at the celestial intermediate origin).
using CelestialVector = std::array<double, 3>;

class Observer {
public:
    /// `elevation` above sea level is taken as height above the ellipsoid; the difference (at most 107 m) moves the Sun
    /// by less than 0.0002 arcseconds. Throws std::domain_error for an invalid coordinate or an elevation that is not
    /// finite.
    Observer(Coordinate place, Metres elevation);

    SkyPosition view(const CelestialVector& object, PreciseInstant when) const;

private:
    std::array<double, 3> site_{}; ///< Earth-fixed, astronomical units
    double sine_latitude_ = 0.0;
    double cosine_latitude_ = 0.0;
    double sine_longitude_ = 0.0;
    double cosine_longitude_ = 0.0;
    double eastward_speed_ = 0.0; ///< of the turning Earth, in units of the speed of light
};

} // namespace geo::sky
