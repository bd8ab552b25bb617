#pragma once
/// Distances, bearings and points along geodesics of the WGS 84 ellipsoid.
///
///     const geo::Metres far = geo::distance(harbour, lighthouse);
///     const geo::Coordinate halfway = geo::point_along(harbour, lighthouse, far / 2.0);
///
/// Karney's method (Algorithms for geodesics, J. Geodesy 87, 2013, doi 10.1007/s00190-012-0578-z) as Boost.Geometry
/// carries it; unlike Vincenty's it converges for nearly antipodal points too. Measured on Karney's GeodTest lines:
/// lengths within 4e-9 m, destinations within 6e-9 m, bearings within 1e-9 degrees (2e-5 where the ends are conjugate,
/// nearly antipodal: there a bearing hangs on the last digit of the end point); on 112 000 pairs of every kind against
/// GeographicLib 2.1.2: lengths within 1.2e-8 m.
///
/// A solution takes some microseconds; for work within a few kilometres use `geo/local_frame.hpp`.
/// Every function throws std::domain_error for an invalid coordinate or a length or bearing that is not finite.

#include "geo/coordinate.hpp"

namespace geo {

/// The shortest line between two points. Bearings clockwise from true north, 0 <= bearing < 360.
struct Geodesic {
    Metres length;
    Degrees initial_bearing; ///< at the start, towards the end
    Degrees final_bearing;   ///< at the end, still in the direction of travel
};

/// Both bearings are 0 where the points coincide. From a pole, the bearing is counted from the meridian written in the
/// pole's own longitude.
Geodesic geodesic_between(Coordinate from, Coordinate to);

Metres distance(Coordinate from, Coordinate to);

/// Clockwise from true north, 0 <= bearing < 360; 0 where the points coincide.
Degrees initial_bearing(Coordinate from, Coordinate to);

/// Where one arrives who goes `length` along the geodesic that starts at `bearing`. A negative length goes backwards.
Coordinate destination(Coordinate from, Degrees bearing, Metres length);

/// Point on the geodesic, `travelled` from `from`; past the end for more than the distance.
Coordinate point_along(Coordinate from, Coordinate to, Metres travelled);

} // namespace geo
