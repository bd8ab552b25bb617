#pragma once
/// From a coordinate to a point on a road: nearest segment, not nearest node.
///
///     const SnapIndex index(network);
///     if (const auto point = index.nearest(harbour, 2000.0_m)) ...

#include "routing/roads/edge_boxes.hpp"
#include "routing/roads/network.hpp"

#include <memory>
#include <optional>

namespace routing::roads {

/// A point on an edge.
struct RoadPoint {
    EdgeIndex edge{};
    double fraction = 0.0; ///< of the edge's length, in drawing order
    geo::Coordinate at;
    geo::Metres moved;               ///< straight distance from the coordinate asked for
    bool passed_over_nearer = false; ///< a nearer road was left out: no way in and out of it
};

/// What an index is made of, to keep in a file.
struct SnapParts {
    EdgeBoxes boxes;
    std::vector<std::uint8_t> usable; ///< of each edge: 1 when it can be reached and left again, else 0
};

SnapParts find_snap_parts(const RoadNetwork& network);

/// Distances in space (see edge_geometry.hpp): exact at any latitude and across the 180th meridian. Roads closed both
/// ways are not in it. Refers to the network, which must outlive it.
class SnapIndex {
public:
    explicit SnapIndex(const RoadNetwork& network);
    /// `parts` as found for this network.
    SnapIndex(const RoadNetwork& network, SnapParts parts);
    ~SnapIndex();
    SnapIndex(SnapIndex&&) noexcept;
    SnapIndex& operator=(SnapIndex&&) noexcept;

    /// Nearest point on a road that can be reached and left again (see round_trip.hpp), or nothing within `limit`.
    /// A point on a destination-only road counts when it opens to the network's core. Of roads within 1 cm of each
    /// other, as at a junction, one that is open both ways wins.
    std::optional<RoadPoint> nearest(geo::Coordinate place, geo::Metres limit) const;
    /// Up to `count` different edges by distance, any component: for naming candidates.
    std::vector<RoadPoint> nearest_edges(geo::Coordinate place, std::size_t count, geo::Metres limit) const;
    /// True for a road `nearest` would take: it can be reached and left again.
    bool is_round_trip(EdgeIndex edge) const;
    /// Every edge that comes within `radius`, in order of index.
    std::vector<EdgeIndex> edges_within(geo::Coordinate place, geo::Metres radius) const;

    const SnapParts& parts() const;

private:
    struct Tree;
    std::unique_ptr<Tree> tree_;
};

} // namespace routing::roads
