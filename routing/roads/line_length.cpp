#include "routing/roads/line_length.hpp"

#include <boost/geometry.hpp>

namespace routing::roads {

geo::Metres ground_distance(geo::Coordinate a, geo::Coordinate b) {
    namespace bg = boost::geometry;
    using Point = bg::model::point<double, 2, bg::cs::geographic<bg::degree>>;
    // Differences of longitude only: right across 180, and exact for short lines.
    const double east = geo::longitude_difference(a.longitude, b.longitude).value;
    const Point from{0.0, a.latitude.value};
    const Point to{east, b.latitude.value};
    return geo::Metres{bg::distance(from, to, bg::strategy::distance::andoyer<>{})};
}

} // namespace routing::roads
