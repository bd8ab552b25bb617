#pragma once
/// Quickest paths under closures in force for a time, the plain way: what TimedFinder is held against.
///
///     TimedReference reference(network, shut);
///     const auto path = reference.quickest(base, harbour, departure);
///
/// Dijkstra's algorithm by time of arrival over (node, zone state), as PathFinder: exact because who leaves later
/// arrives no earlier (S. Dreyfus, "An Appraisal of Some Shortest-Path Algorithms", Operations Research 17, 1969).
/// O((n + m) log n) a source.

#include "routing/roads/timed/timed_path.hpp"

#include <optional>
#include <vector>

namespace routing::roads::timed {

/// Refers to the network and to what is shut, and sees what changes there later. Not for two threads at once.
class TimedReference {
public:
    TimedReference(const RoadNetwork& network, const ShutTimes& shut);

    /// Nothing when there is no way, or none within `closed` (12 days).
    std::optional<TimedPath> quickest(const RoadPoint& from, const RoadPoint& to, geo::Instant departure,
                                      const ClosedEdges& closed_edges = {});
    /// To each target; `closed` where there is no way.
    std::vector<Milliseconds> travel_times(const RoadPoint& from, const std::vector<RoadPoint>& to,
                                           geo::Instant departure, const ClosedEdges& closed_edges = {});

private:
    struct Label {
        Milliseconds time = closed;
        std::uint32_t parent = none; ///< label the last arc starts from
        std::uint32_t arc = none;    ///< the last arc; without parent, one along the source's own edge
    };
    struct Target {
        Milliseconds time = closed;
        std::uint32_t parent = none; ///< label the last piece starts from; none: the source itself
        bool forward = true;
    };

    bool is_closed(EdgeIndex edge) const { return closed_edges_ && (*closed_edges_)[value(edge)]; }
    void search(const RoadPoint& from, const std::vector<RoadPoint>& to);
    void seed(const RoadPoint& from, const std::vector<RoadPoint>& to);
    void scan(std::uint32_t label, const std::vector<RoadPoint>& to);
    void offer(std::uint32_t label, Milliseconds time, std::uint32_t parent, std::uint32_t arc);
    void offer_targets(const std::vector<RoadPoint>& to, EdgeIndex edge, bool forward, double start, Milliseconds time,
                       std::uint32_t parent);

    const RoadNetwork& network_;
    const ShutTimes& shut_;
    const ClosedEdges* closed_edges_ = nullptr;
    geo::Instant departure_;
    std::vector<Label> labels_;        ///< [3 * node + zone state]
    std::vector<std::uint32_t> met_;   ///< labels in use
    std::vector<bool> is_target_edge_; ///< [edge]
    std::vector<Target> targets_;
    std::vector<std::uint64_t> queue_; ///< heap of (time, label)
};

} // namespace routing::roads::timed
