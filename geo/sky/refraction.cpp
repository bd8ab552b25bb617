#include "geo/sky/refraction.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace geo::sky {

namespace {

double tangent(double degrees) {
    return std::tan(degrees * std::numbers::pi / 180.0);
}

/// Thicker, colder air bends more. The formulas dip below nothing within a degree of the zenith.
Degrees for_air(double arcminutes, Air air) {
    const double density = air.pressure.value / 1010.0 * 283.0 / (273.0 + air.temperature.value);
    return {std::max(0.0, arcminutes * density / 60.0)};
}

double saemundsson(double altitude) {
    return 1.02 / tangent(altitude + 10.3 / (altitude + 5.11));
}

constexpr double lowest_true = -1.0;

} // namespace

Degrees refraction_from_true(Degrees true_altitude, Air air) {
    return for_air(saemundsson(std::max(true_altitude.value, lowest_true)), air);
}

Degrees refraction_from_apparent(Degrees apparent_altitude, Air air) {
    const double lowest_apparent = lowest_true + saemundsson(lowest_true) / 60.0;
    const double altitude = std::max(apparent_altitude.value, lowest_apparent);
    return for_air(1.0 / tangent(altitude + 7.31 / (altitude + 4.4)), air);
}

} // namespace geo::sky
