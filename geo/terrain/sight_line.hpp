#pragma once
/// Places along a geodesic, many of them and quickly.
///
///     const geo::terrain::SightLine line(arch, 241_deg, 60000_m);
///     line.at(1500_m)
///
/// Karney's geodesic at a third, two thirds and the end of the length; between, latitude and longitude as cubics of the
/// length. Within 0.05 m of the geodesic up to 60 km and latitude 75 (see the tests); beyond latitude 80 every place is
/// solved for, which is slow but right at the poles too.

#include "geo/coordinate.hpp"

#include <array>

namespace geo::terrain {

class SightLine {
public:
    SightLine(Coordinate from, Degrees azimuth, Metres length);

    /// Longitude may pass 180 a little.
    Coordinate at(Metres distance) const {
        if (is_polar_)
            return solved(distance);
        const double s = distance.value;
        return {{latitude_[0] + s * (latitude_[1] + s * (latitude_[2] + s * latitude_[3]))},
                {longitude_[0] + s * (longitude_[1] + s * (longitude_[2] + s * longitude_[3]))}};
    }

private:
    Coordinate solved(Metres distance) const;

    Coordinate from_;
    Degrees azimuth_;
    bool is_polar_;
    std::array<double, 4> latitude_{};
    std::array<double, 4> longitude_{};
};

} // namespace geo::terrain
