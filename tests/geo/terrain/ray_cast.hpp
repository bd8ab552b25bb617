#pragma once
/// The horizon again, by looking at the ground every few metres along Karney geodesics and leaving nothing out.

#include "geo/geodesic.hpp"
#include "geo/terrain/horizon.hpp"

#include <cmath>
#include <numbers>

namespace support {

/// The highest angle in one direction: places by `where(distance)`, ten times as close as the program's own steps
/// (a twentieth of a cell, later 0.00025 of the distance), close by closer still: there a metre is a degree.
template <class Where>
geo::terrain::HorizonPoint cast_ray(const geo::terrain::ElevationSheet& sheet, geo::Coordinate place,
                                    geo::Degrees azimuth, double cell, const Where& where,
                                    geo::terrain::HorizonSettings settings = {}) {
    const double eye = sheet.height(place).value().value + settings.eye_height.value;
    const double radius = geo::terrain::radius_of_curvature(place.latitude, azimuth).value;
    double best = -1e9;
    double best_distance = 0.0;
    double s = cell / 2.0;
    while (s <= settings.range.value) {
        if (const auto height = sheet.height(where(s))) {
            const double tangent = (height->value - eye) / s - s * (1.0 - settings.refraction) / (2.0 * radius);
            if (tangent > best) {
                best = tangent;
                best_distance = s;
            }
        }
        s += std::max(std::min(cell / 20.0, s / 500.0), 0.00025 * s);
    }
    // The sea's horizon, by search: no sight goes below it.
    if (eye > 0.0)
        for (int step = 20; step < 10000; ++step) {
            const double far = 50.0 * step;
            best = std::max(best, -eye / far - far * (1.0 - settings.refraction) / (2.0 * radius));
        }
    return {{std::atan(best) * 180.0 / std::numbers::pi}, {best_distance}, {0.0}};
}

} // namespace support
