#include "geo/geodesic.hpp"

// karney_inverse swaps two geodesic scales it never computed when none are asked for; nothing else reads them.
#if defined(__GNUC__) && !defined(__clang__)
#pragma GCC diagnostic ignored "-Wmaybe-uninitialized"
#endif

#include <boost/geometry/core/cs.hpp>
#include <boost/geometry/formulas/karney_direct.hpp>
#include <boost/geometry/formulas/karney_inverse.hpp>
#include <boost/geometry/srs/spheroid.hpp>

#include <cmath>
#include <stdexcept>

namespace geo {

namespace {

// The formulas behind boost::geometry::strategy::distance::karney. Boost 1.74 has no azimuth or destination strategy of
// Karney's, only Vincenty's, which fails near antipodes; so the formulas are called themselves. The reduced length must
// be asked for: without it 1.74 steers its Newton iteration by a derivative it never computes (an uninitialised
// variable), which costs speed at best and thousands of kilometres at worst. The strategy has that fault.
constexpr bool reduced_length = true;
using Inverse = boost::geometry::formula::karney_inverse<double, true, true, true, reduced_length>;
using Direct = boost::geometry::formula::karney_direct<double, true>;

/// Semi-axes of WGS 84: a and flattening 1 / 298.257223563 (NGA.STND.0036, 2014, table 3.1).
boost::geometry::srs::spheroid<double> wgs84() {
    constexpr double equatorial = 6378137.0;
    return {equatorial, equatorial * (1.0 - 1.0 / 298.257223563)};
}

void require_valid(Coordinate place) {
    if (!is_valid(place))
        throw std::domain_error("coordinate outside -90..90, -180..180");
}

void require_finite(double value, const char* what) {
    if (!std::isfinite(value))
        throw std::domain_error(what);
}

Degrees compass(double bearing) {
    const double turned = std::fmod(bearing, 360.0);
    const double positive = turned < 0.0 ? turned + 360.0 : turned;
    // A tiny negative bearing plus 360 rounds to 360 itself; and -0 becomes 0.
    return {positive >= 360.0 ? 0.0 : positive + 0.0};
}

Degrees wrapped_longitude(double longitude) {
    return {longitude >= -180.0 && longitude <= 180.0 ? longitude : std::remainder(longitude, 360.0)};
}

} // namespace

Geodesic geodesic_between(Coordinate from, Coordinate to) {
    require_valid(from);
    require_valid(to);
    const auto line =
        Inverse::apply(from.longitude.value, from.latitude.value, to.longitude.value, to.latitude.value, wgs84());
    if (line.distance == 0.0)
        return {};
    return {{line.distance}, compass(line.azimuth), compass(line.reverse_azimuth)};
}

Metres distance(Coordinate from, Coordinate to) {
    return geodesic_between(from, to).length;
}

Degrees initial_bearing(Coordinate from, Coordinate to) {
    return geodesic_between(from, to).initial_bearing;
}

Coordinate destination(Coordinate from, Degrees bearing, Metres length) {
    require_valid(from);
    require_finite(bearing.value, "bearing is not finite");
    require_finite(length.value, "length is not finite");
    double longitude = from.longitude.value;
    double azimuth = std::remainder(bearing.value, 360.0);
    // Boost's formula leaves a pole along the pole's own longitude whatever the bearing; so the way on is made a
    // meridian.
    if (from.latitude.value == 90.0) {
        longitude += 180.0 - azimuth;
        azimuth = 180.0;
    } else if (from.latitude.value == -90.0) {
        longitude += azimuth;
        azimuth = 0.0;
    }
    const auto end =
        Direct::apply(wrapped_longitude(longitude).value, from.latitude.value, length.value, azimuth, wgs84());
    return {{end.lat2}, wrapped_longitude(end.lon2)};
}

Coordinate point_along(Coordinate from, Coordinate to, Metres travelled) {
    return destination(from, initial_bearing(from, to), travelled);
}

} // namespace geo
