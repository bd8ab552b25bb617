#pragma once
/// Outlines of areas: joining the ways of a multipolygon to rings, and a point that lies inside.
///
///     const auto joined = join_rings({{1, 2, 3}, {3, 4, 1}});   // one ring 1 2 3 4 1
///     const geo::Coordinate inside = point_inside(rings);

#include "geo/coordinate.hpp"
#include "routing/roads/osm_extract.hpp"

#include <vector>

namespace routing::roads {

struct JoinedRings {
    std::vector<std::vector<OsmId>> rings; ///< first and last id equal
    bool complete = true;                  ///< false when pieces were left that close no ring
};

/// Joins pieces end to end by node id, in either direction. Works through the pieces in their order, so that the result
/// does not hang on anything but the input. O(n log n).
JoinedRings join_rings(const std::vector<std::vector<OsmId>>& pieces);

/// A point inside the area bounded by all rings together (even-odd, so inner rings are holes): the middle of the widest
/// stretch of a parallel through the area. For an area without extent, the mean of its corners.
/// Rings are closed or not; the area may lie across longitude 180. `rings` must hold at least one point.
geo::Coordinate point_inside(const std::vector<std::vector<geo::Coordinate>>& rings);

} // namespace routing::roads
