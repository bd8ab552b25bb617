#pragma once
/// A position on the WGS 84 ellipsoid.
///
///     geo::Coordinate harbour{-35.21_deg, -8.47_deg};

#include "geo/units.hpp"

namespace geo {

/// WGS 84 position.
struct Coordinate {
    Degrees latitude;  ///< north positive, -90 to 90
    Degrees longitude; ///< east positive, -180 to 180

    friend constexpr bool operator==(const Coordinate&, const Coordinate&) = default;
};

/// Finite and inside -90..90, -180..180. (0, 0) is a place like any other.
constexpr bool is_valid(Coordinate place) {
    return place.latitude.value >= -90.0 && place.latitude.value <= 90.0 && place.longitude.value >= -180.0 &&
           place.longitude.value <= 180.0;
}

/// East-west difference `to - from`, taken the short way round, -180 to 180.
constexpr Degrees longitude_difference(Degrees from, Degrees to) {
    double difference = to.value - from.value;
    while (difference > 180.0)
        difference -= 360.0;
    while (difference < -180.0)
        difference += 360.0;
    return {difference};
}

} // namespace geo
