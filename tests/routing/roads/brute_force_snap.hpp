#pragma once
/// Snapping checked against every segment in turn, in another frame: metres east and north of the place asked for.

#include "dice.hpp"
#include "routing/roads/edge_geometry.hpp"
#include "routing/roads/round_trip.hpp"
#include "routing/roads/snap.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>

namespace support {

/// Least distance from `place` to an edge on a plane that touches the earth there. WGS 84 radii of curvature; good to
/// 1e-3 of the distance within 5 km up to 83 degrees of latitude.
inline double plane_distance(const routing::roads::RoadNetwork& network, const routing::roads::Edge& edge,
                             geo::Coordinate place) {
    constexpr double radian = std::numbers::pi / 180.0;
    constexpr double eccentricity_squared = 0.00669437999014;
    const double sine = std::sin(place.latitude.value * radian);
    const double root = std::sqrt(1.0 - eccentricity_squared * sine * sine);
    const double north = 6378137.0 * (1.0 - eccentricity_squared) / (root * root * root) * radian;
    const double east = 6378137.0 / root * std::cos(place.latitude.value * radian) * radian;
    const auto x = [&](geo::Coordinate to) {
        return east * geo::longitude_difference(place.longitude, to.longitude).value;
    };
    const auto y = [&](geo::Coordinate to) { return north * (to.latitude - place.latitude).value; };
    double least = std::numeric_limits<double>::infinity();
    const auto shape = network.shape_of(edge);
    for (std::size_t i = 1; i < shape.size(); ++i) {
        const double dx = x(shape[i]) - x(shape[i - 1]);
        const double dy = y(shape[i]) - y(shape[i - 1]);
        const double length_squared = dx * dx + dy * dy;
        const double along = length_squared > 0.0
                                 ? std::clamp(-(x(shape[i - 1]) * dx + y(shape[i - 1]) * dy) / length_squared, 0.0, 1.0)
                                 : 0.0;
        least = std::min(least, std::hypot(x(shape[i - 1]) + along * dx, y(shape[i - 1]) + along * dy));
    }
    return least;
}

/// Asks every edge in turn.
class BruteForceSnap {
public:
    explicit BruteForceSnap(const routing::roads::RoadNetwork& network)
        : network_(network), usable_(routing::roads::round_trip_edges(network)) {}

    /// Empty when the index answers as brute force does, to 2 cm and the plane's own error.
    std::string fault_of(const routing::roads::SnapIndex& index, geo::Coordinate place, geo::Metres limit) const {
        namespace roads = routing::roads;
        double least = std::numeric_limits<double>::infinity();
        double least_left_out = least;
        for (std::size_t i = 0; i < network_.edges.size(); ++i) {
            const roads::Edge& edge = network_.edges[i];
            if (edge.forward >= roads::closed && edge.backward >= roads::closed)
                continue;
            double& counted = usable_[i] ? least : least_left_out;
            counted = std::min(counted, plane_distance(network_, edge, place));
        }
        const auto slack = [](double metres) { return 0.02 + 1e-3 * metres; };
        const auto point = index.nearest(place, limit);
        if (!point)
            return least <= limit.value - slack(least) ? "missed a road at " + std::to_string(least) + " m" : "";
        const double moved = point->moved.value;
        if (std::abs(moved - least) > slack(least))
            return "moved " + std::to_string(moved) + " m, the nearest is " + std::to_string(least) + " m off";
        if (std::abs(plane_distance(network_, network_.edges[value(point->edge)], place) - moved) > slack(moved))
            return "the edge named is not that near";
        if (std::abs(roads::distance(place, point->at).value - moved) > 1e-6)
            return "the distance named is not the one to the point";
        if (roads::distance(point->at, roads::point_on_edge(network_, point->edge, point->fraction)).value > 0.01)
            return "the fraction does not lead to the point";
        if (std::abs(least_left_out - least) > slack(least) && point->passed_over_nearer != (least_left_out < least))
            return "wrong about passing over a nearer road";
        return "";
    }

private:
    const routing::roads::RoadNetwork& network_;
    std::vector<bool> usable_;
};

} // namespace support
