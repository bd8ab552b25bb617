#pragma once
/// Exact quickest paths for the van between points on roads.
///
/// Destination-only stretches may open or end a path, never stand in the middle: the search runs over (node, zone state)
/// with states leaving -> open -> entering.

#include "routing/roads/closure.hpp"
#include "routing/roads/network.hpp"
#include "routing/roads/snap.hpp"

#include <optional>
#include <vector>

namespace routing::roads {

/// A stretch of an edge on a path.
struct PathPiece {
    EdgeIndex edge{};
    bool forward = true;
    double from_fraction = 0.0; ///< in driving direction: 0 at the end the van enters by
    double to_fraction = 1.0;
};

struct Path {
    Milliseconds time = 0;
    geo::Metres length;
    std::vector<PathPiece> pieces; ///< empty when start and end are one point
};

/// One road name, driven without a break.
struct RoadStretch {
    std::string name; ///< empty for an unnamed road
    geo::Metres length;
    Milliseconds time = 0;
    std::uint16_t notes = 0;
};

/// Nothing when there is no way. Both on one edge is treated apart.
std::optional<Path> quickest_path(const RoadNetwork& network, const RoadPoint& from, const RoadPoint& to,
                                  const ClosedEdges& closed_edges = {});

/// Times from each source to each target, row by row; `closed` where there is no way.
std::vector<Milliseconds> travel_times(const RoadNetwork& network, const std::vector<RoadPoint>& sources,
                                       const std::vector<RoadPoint>& targets, const ClosedEdges& closed_edges = {});

/// The line driven, longitudes and latitudes as mapped.
std::vector<geo::Coordinate> path_line(const RoadNetwork& network, const Path& path);
/// Names along the path, merged while the name stays.
std::vector<RoadStretch> road_stretches(const RoadNetwork& network, const Path& path);

} // namespace routing::roads
