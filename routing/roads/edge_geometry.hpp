#pragma once
/// Where things lie on the earth and along an edge: one set of formulas for snapping, closures and path lines.
///
///     const auto from_the_start = point_on_edge(network, edge, 0.25);
///
/// Positions are taken into space (earth-centred, metres), so nothing changes at the 180th meridian or near a pole. A
/// distance is the straight one: for two points 10 km apart 1 mm short of the way over the ground. Between two shape
/// points a road runs straight in longitude and latitude, as GeoJSON draws it (RFC 7946, section 3.1.1).

#include "geo/coordinate.hpp"
#include "routing/roads/network.hpp"

#include <span>

namespace routing::roads {

/// Earth-centred, earth-fixed position on the WGS 84 ellipsoid, in metres.
struct SpacePoint {
    double x = 0.0, y = 0.0, z = 0.0;
};

SpacePoint in_space(geo::Coordinate place);
geo::Metres distance(const SpacePoint& a, const SpacePoint& b);
geo::Metres distance(geo::Coordinate a, geo::Coordinate b);

/// Nearest point to `place` on the straight line a-b: its share of the way from a (0 to 1) and its distance.
struct NearestOnSegment {
    double share = 0.0;
    geo::Metres distance;
};
NearestOnSegment nearest_on_segment(const SpacePoint& place, const SpacePoint& a, const SpacePoint& b);

/// The point at `share` of the way from a to b, straight in longitude and latitude, the short way round the earth.
geo::Coordinate point_between(geo::Coordinate a, geo::Coordinate b, double share);

/// Length of a line by `distance`.
geo::Metres line_length(std::span<const geo::Coordinate> line);

/// The point at `fraction` of the edge's length, 0 to 1 in drawing order.
geo::Coordinate point_on_edge(const RoadNetwork& network, EdgeIndex edge, double fraction);

/// The edge's line from one fraction to another in drawing order; backwards when `from` > `to`. Shape points strictly
/// between are passed on as mapped.
std::vector<geo::Coordinate> line_on_edge(const RoadNetwork& network, EdgeIndex edge, double from, double to);

} // namespace routing::roads
