#pragma once
/// A flat map in metres around a point, for work within a few kilometres: which segment is nearest, how far along it.
///
///     const geo::LocalFrame frame(car_park);
///     const auto foot = geo::nearest_on_segment(frame.from(scene), frame.from(bend), frame.from(junction));
///     const geo::Coordinate where = frame.to_coordinate(foot.point);
///
/// Degrees are scaled by the ellipsoid's radii of curvature at the origin; straight lines in longitude and latitude
/// stay straight. Against the geodesic, lengths from the origin are off by at most (measured, latitudes up to 60): 1 km
/// 0.006 %, 5 km 0.03 %, 20 km 0.11 %; at latitude 80: 1 km 0.02 %. Longitudes unwrap the short way round, so +-180 is
/// no border. Not for an origin within some kilometres of a pole.
/// Source of the radii: NGA.STND.0036 (2014), WGS 84.

#include "geo/coordinate.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace geo {

/// Offset from a frame's origin.
struct LocalPoint {
    Metres east;
    Metres north;
};

class LocalFrame {
public:
    explicit LocalFrame(Coordinate origin) : origin_(origin) {
        constexpr double equatorial_radius = 6378137.0;
        constexpr double flattening = 1.0 / 298.257223563;
        constexpr double eccentricity_squared = flattening * (2.0 - flattening);
        constexpr double radians_per_degree = std::numbers::pi / 180.0;
        const double sine = std::sin(origin.latitude.value * radians_per_degree);
        const double cosine = std::cos(origin.latitude.value * radians_per_degree);
        const double w_squared = 1.0 - eccentricity_squared * sine * sine;
        const double prime_vertical = equatorial_radius / std::sqrt(w_squared);
        const double meridional = prime_vertical * (1.0 - eccentricity_squared) / w_squared;
        metres_per_degree_east_ = prime_vertical * cosine * radians_per_degree;
        metres_per_degree_north_ = meridional * radians_per_degree;
    }

    Coordinate origin() const { return origin_; }

    LocalPoint from(Coordinate place) const {
        const Degrees east = longitude_difference(origin_.longitude, place.longitude);
        return {{east.value * metres_per_degree_east_},
                {(place.latitude.value - origin_.latitude.value) * metres_per_degree_north_}};
    }

    /// Longitude back in -180..180.
    Coordinate to_coordinate(LocalPoint point) const {
        const double latitude = origin_.latitude.value + point.north.value / metres_per_degree_north_;
        const double longitude = origin_.longitude.value + point.east.value / metres_per_degree_east_;
        return {{std::clamp(latitude, -90.0, 90.0)},
                {longitude >= -180.0 && longitude <= 180.0 ? longitude : std::remainder(longitude, 360.0)}};
    }

private:
    Coordinate origin_;
    double metres_per_degree_east_ = 0.0;
    double metres_per_degree_north_ = 0.0;
};

inline Metres distance(LocalPoint a, LocalPoint b) {
    return {std::hypot(a.east.value - b.east.value, a.north.value - b.north.value)};
}

/// Foot of the perpendicular on a segment, or the nearer end where there is none.
struct SegmentFoot {
    LocalPoint point;
    double fraction = 0.0; ///< 0 at the start, 1 at the end; 0 on a segment of no length
    Metres distance;
};

inline SegmentFoot nearest_on_segment(LocalPoint place, LocalPoint start, LocalPoint end) {
    const Metres along_east = end.east - start.east;
    const Metres along_north = end.north - start.north;
    const double squared = along_east.value * along_east.value + along_north.value * along_north.value;
    double fraction = 0.0;
    if (squared > 0.0)
        fraction = std::clamp(((place.east - start.east).value * along_east.value +
                               (place.north - start.north).value * along_north.value) /
                                  squared,
                              0.0, 1.0);
    const LocalPoint foot{start.east + fraction * along_east, start.north + fraction * along_north};
    return {foot, fraction, distance(place, foot)};
}

} // namespace geo
