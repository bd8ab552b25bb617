#pragma once
/// From a coordinate to a point on a road: nearest segment, not nearest node.

#include "routing/roads/network.hpp"

#include <memory>
#include <optional>

namespace routing::roads {

/// A point on an edge.
struct RoadPoint {
    EdgeIndex edge{};
    double fraction = 0.0; ///< of the edge's length, in drawing order
    geo::Coordinate at;
    geo::Metres moved;     ///< straight distance from the coordinate asked for
    bool passed_over_nearer = false; ///< a nearer road was left out: no way in and out of it
};

/// R-tree over the network's segments.
class SnapIndex {
public:
    explicit SnapIndex(const RoadNetwork& network);
    ~SnapIndex();
    SnapIndex(SnapIndex&&) noexcept;
    SnapIndex& operator=(SnapIndex&&) noexcept;

    /// Nearest point on a road that can be reached and left again (largest strong component), or nothing within `limit`.
    /// A point on a destination-only road counts when it opens to that component.
    std::optional<RoadPoint> nearest(geo::Coordinate place, geo::Metres limit) const;
    /// Up to `count` different edges by distance, any component: for naming candidates.
    std::vector<RoadPoint> nearest_edges(geo::Coordinate place, std::size_t count, geo::Metres limit) const;

private:
    struct Tree;
    std::unique_ptr<Tree> tree_;
};

} // namespace routing::roads
