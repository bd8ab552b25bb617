#include "geo/sky/observer.hpp"

#include "geo/sky/earth_rotation.hpp"

#include <erfa.h>
#include <erfam.h>

#include <cmath>
#include <stdexcept>

namespace geo::sky {

Observer::Observer(Coordinate place, Metres elevation) {
    if (!is_valid(place) || !std::isfinite(elevation.value))
        throw std::domain_error(
            "observer needs a latitude in -90..90, a longitude in -180..180 and a finite elevation");
    const double latitude = place.latitude.value * ERFA_DD2R;
    const double longitude = place.longitude.value * ERFA_DD2R;
    sine_latitude_ = std::sin(latitude);
    cosine_latitude_ = std::cos(latitude);
    sine_longitude_ = std::sin(longitude);
    cosine_longitude_ = std::cos(longitude);
    eraGd2gc(ERFA_WGS84, longitude, latitude, elevation.value, site_.data());
    constexpr double rotation_rate = 7.292115e-5; // rad/s, WGS 84 (NGA.STND.0036, 2014)
    eastward_speed_ = rotation_rate * std::hypot(site_[0], site_[1]) / ERFA_CMPS;
    for (double& part : site_)
        part /= ERFA_DAU;
}

SkyPosition Observer::view(const CelestialVector& object, PreciseInstant when) const {
    const double turned = earth_rotation_angle(when).value * ERFA_DD2R;
    const double sine = std::sin(turned);
    const double cosine = std::cos(turned);
    const double x = cosine * object[0] + sine * object[1] - site_[0];
    const double y = cosine * object[1] - sine * object[0] - site_[1];
    const double z = object[2] - site_[2];

    const double away_from_axis = cosine_longitude_ * x + sine_longitude_ * y;
    const double north = cosine_latitude_ * z - sine_latitude_ * away_from_axis;
    const double up = sine_latitude_ * z + cosine_latitude_ * away_from_axis;
    double east = cosine_longitude_ * y - sine_longitude_ * x;
    // Diurnal aberration: the moving site sees everything shifted towards the east, 0.32 arcseconds at the equator.
    east += eastward_speed_ * std::sqrt(x * x + y * y + z * z);

    const double azimuth = std::atan2(east, north) * ERFA_DR2D;
    const double positive = azimuth < 0.0 ? azimuth + 360.0 : azimuth;
    return {{std::atan2(up, std::hypot(east, north)) * ERFA_DR2D}, {positive >= 360.0 ? 0.0 : positive}};
}

} // namespace geo::sky
