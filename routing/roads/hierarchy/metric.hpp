#pragma once
/// The times on a hierarchy for one network and what is shut on it.
///
///     Metric times(shape, network, {});
///     times.shut(pass.edges);   // updates only what changes
///     ... // ask
///     times.reopen();           // as if nothing had happened
///
/// Each up-arc holds the least time over its own roads and all ways over lower ranks: exact on the roads open to all.
/// Destination-only roads are left out; legs begin and end on them by leg_ends.hpp. Customizing is O(triangles).

#include "routing/roads/closure.hpp"
#include "routing/roads/hierarchy/hierarchy.hpp"

#include <utility>
#include <vector>

namespace routing::roads::hierarchy {

/// Refers to shape and network, which must outlive it.
class Metric {
public:
    Metric(const Hierarchy& shape, const RoadNetwork& network, const ClosedEdges& closed_edges);

    Milliseconds up(UpArc arc) const { return times_[2 * arc]; }       ///< tail to head
    Milliseconds down(UpArc arc) const { return times_[2 * arc + 1]; } ///< head to tail

    /// Shuts edges besides those shut already, and keeps what it changed.
    void shut(const std::vector<EdgeIndex>& edges);
    /// Takes back every `shut` since the metric was made.
    void reopen();

    bool is_shut(EdgeIndex edge) const { return !closed_edges_.empty() && closed_edges_[value(edge)]; }
    /// Time on a network arc for legs that cross it: `closed` when shut or for destination traffic only.
    Milliseconds own_time(std::uint32_t network_arc) const;

    const Hierarchy& shape() const { return shape_; }
    const RoadNetwork& network() const { return network_; }

private:
    Milliseconds least_input(std::uint32_t slot) const;
    void customize();
    std::pair<Milliseconds, Milliseconds> recompute(UpArc arc) const;

    const Hierarchy& shape_;
    const RoadNetwork& network_;
    ClosedEdges closed_edges_;
    std::vector<Milliseconds> times_; ///< [2 * arc + way]
    struct Change {
        UpArc arc;
        Milliseconds up, down;
    };
    std::vector<Change> changes_; ///< values before, in the order of change
    std::vector<EdgeIndex> shut_since_;
};

} // namespace routing::roads::hierarchy
