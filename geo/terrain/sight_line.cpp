#include "geo/terrain/sight_line.hpp"

#include "geo/geodesic.hpp"

#include <cmath>

namespace geo::terrain {

namespace {

constexpr double polar_latitude = 80.0;

/// Coefficients of the cubic through values at 0, h, 2h, 3h (Newton's divided differences, multiplied out).
std::array<double, 4> cubic(const std::array<double, 4>& values, double h) {
    const double first = values[1] - values[0];
    const double second = values[2] - 2.0 * values[1] + values[0];
    const double third = values[3] - 3.0 * values[2] + 3.0 * values[1] - values[0];
    return {values[0], (first - second / 2.0 + third / 3.0) / h, (second - third) / (2.0 * h * h),
            third / (6.0 * h * h * h)};
}

} // namespace

SightLine::SightLine(Coordinate from, Degrees azimuth, Metres length)
    : from_(from), azimuth_(azimuth), is_polar_(std::abs(from.latitude.value) > polar_latitude) {
    if (is_polar_)
        return;
    std::array<double, 4> latitudes{from.latitude.value};
    std::array<double, 4> longitudes{from.longitude.value};
    for (std::size_t node = 1; node < 4; ++node) {
        const Coordinate place = solved(length * (static_cast<double>(node) / 3.0));
        latitudes[node] = place.latitude.value;
        longitudes[node] = from.longitude.value + longitude_difference(from.longitude, place.longitude).value;
    }
    latitude_ = cubic(latitudes, length.value / 3.0);
    longitude_ = cubic(longitudes, length.value / 3.0);
}

Coordinate SightLine::solved(Metres distance) const {
    return destination(from_, azimuth_, distance);
}

} // namespace geo::terrain
