#include "routing/roads/edge_geometry.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace routing::roads {

namespace {

// WGS 84 (NGA.STND.0036): semi-major axis in metres and flattening.
constexpr double semi_major_axis = 6378137.0;
constexpr double flattening = 1.0 / 298.257223563;
constexpr double eccentricity_squared = flattening * (2.0 - flattening);
constexpr double radians = std::numbers::pi / 180.0;

} // namespace

SpacePoint in_space(geo::Coordinate place) {
    const double latitude = place.latitude.value * radians;
    const double longitude = place.longitude.value * radians;
    const double sine = std::sin(latitude);
    const double cosine = std::cos(latitude);
    const double radius = semi_major_axis / std::sqrt(1.0 - eccentricity_squared * sine * sine);
    return {radius * cosine * std::cos(longitude), radius * cosine * std::sin(longitude),
            radius * (1.0 - eccentricity_squared) * sine};
}

geo::Metres distance(const SpacePoint& a, const SpacePoint& b) {
    const double x = b.x - a.x;
    const double y = b.y - a.y;
    const double z = b.z - a.z;
    return {std::sqrt(x * x + y * y + z * z)};
}

geo::Metres distance(geo::Coordinate a, geo::Coordinate b) {
    return distance(in_space(a), in_space(b));
}

NearestOnSegment nearest_on_segment(const SpacePoint& place, const SpacePoint& a, const SpacePoint& b) {
    const SpacePoint along{b.x - a.x, b.y - a.y, b.z - a.z};
    const double length_squared = along.x * along.x + along.y * along.y + along.z * along.z;
    double share = 0.0;
    if (length_squared > 0.0) {
        const double dot = (place.x - a.x) * along.x + (place.y - a.y) * along.y + (place.z - a.z) * along.z;
        share = std::clamp(dot / length_squared, 0.0, 1.0);
    }
    const SpacePoint nearest{a.x + share * along.x, a.y + share * along.y, a.z + share * along.z};
    return {share, distance(place, nearest)};
}

geo::Coordinate point_between(geo::Coordinate a, geo::Coordinate b, double share) {
    if (share <= 0.0)
        return a;
    if (share >= 1.0)
        return b;
    const double latitude = a.latitude.value + share * (b.latitude.value - a.latitude.value);
    double longitude = a.longitude.value + share * geo::longitude_difference(a.longitude, b.longitude).value;
    if (longitude > 180.0)
        longitude -= 360.0;
    else if (longitude < -180.0)
        longitude += 360.0;
    return {{latitude}, {longitude}};
}

geo::Metres line_length(std::span<const geo::Coordinate> line) {
    geo::Metres sum;
    for (std::size_t i = 1; i < line.size(); ++i)
        sum += distance(line[i - 1], line[i]);
    return sum;
}

geo::Coordinate point_on_edge(const RoadNetwork& network, EdgeIndex edge, double fraction) {
    const auto line = network.shape_of(network.edges[value(edge)]);
    if (fraction <= 0.0)
        return line.front();
    if (fraction >= 1.0)
        return line.back();
    const geo::Metres wanted = line_length(line) * fraction;
    geo::Metres sum;
    for (std::size_t i = 1; i < line.size(); ++i) {
        const geo::Metres length = distance(line[i - 1], line[i]);
        if (length.value > 0.0 && sum + length >= wanted)
            return point_between(line[i - 1], line[i], (wanted - sum).value / length.value);
        sum += length;
    }
    return line.back();
}

std::vector<geo::Coordinate> line_on_edge(const RoadNetwork& network, EdgeIndex edge, double from, double to) {
    if (from > to) {
        auto line = line_on_edge(network, edge, to, from);
        std::reverse(line.begin(), line.end());
        return line;
    }
    const auto shape = network.shape_of(network.edges[value(edge)]);
    const geo::Metres total = line_length(shape);
    std::vector<geo::Coordinate> line{point_on_edge(network, edge, from)};
    geo::Metres sum;
    for (std::size_t i = 1; i + 1 < shape.size(); ++i) {
        sum += distance(shape[i - 1], shape[i]);
        if (sum > total * from && sum < total * to)
            line.push_back(shape[i]);
    }
    line.push_back(point_on_edge(network, edge, to));
    return line;
}

} // namespace routing::roads
