#include "geo/sky/celestial_axes.hpp"

#include "geo/sky/node_table.hpp"

#include <erfa.h>
#include <erfam.h>

#include <algorithm>
#include <cmath>

namespace geo::sky {

namespace {

using Matrix = std::array<double, 9>;

Matrix intermediate_matrix(JulianDate terrestrial) {
    double rows[3][3];
    eraC2i06a(terrestrial.whole, terrestrial.fraction, rows);
    Matrix matrix{};
    for (std::size_t i = 0; i < 9; ++i)
        matrix[i] = rows[i / 3][i % 3];
    return matrix;
}

CelestialVector rotated(const Matrix& matrix, const CelestialVector& vector) {
    CelestialVector result{};
    for (std::size_t i = 0; i < 9; ++i)
        result[i / 3] += matrix[i] * vector[i % 3];
    return result;
}

} // namespace

CelestialVector on_axes_of_date(const CelestialVector& gcrs, JulianDate terrestrial) {
    constexpr std::size_t days_kept = 1024;
    thread_local NodeTable<9> daily(1, days_kept, intermediate_matrix);
    return rotated(daily.at(terrestrial), gcrs);
}

CelestialVector computed_on_axes_of_date(const CelestialVector& gcrs, JulianDate terrestrial) {
    return rotated(intermediate_matrix(terrestrial), gcrs);
}

CelestialVector on_ecliptic_of_date(const CelestialVector& gcrs, JulianDate terrestrial) {
    double to_ecliptic[3][3];
    eraEcm06(terrestrial.whole, terrestrial.fraction, to_ecliptic);
    CelestialVector seen = gcrs;
    CelestialVector result{};
    eraRxp(to_ecliptic, seen.data(), result.data());
    return result;
}

double length(const CelestialVector& vector) {
    return std::sqrt(vector[0] * vector[0] + vector[1] * vector[1] + vector[2] * vector[2]);
}

} // namespace geo::sky
