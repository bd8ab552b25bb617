#pragma once
/// Exact quickest paths under closures in force for a time, much sooner than TimedReference; equal to it in time.
///
///     hierarchy::Metric metric(shape, network, closed_edges);   // shut for good: left out altogether
///     TimedFinder finder(metric, shut);
///     const auto path = finder.quickest(base, harbour, departure);
///
/// First the quickest path without closures in force for a time: when it needs no wait, nothing is quicker. Else A* by
/// time of arrival, guided by RemainingTime: closures only add time, so that stays a lower bound. It does badly, at
/// times worse than Dijkstra's algorithm, when the way round or the wait is much longer than the way without: then it
/// searches the same places and asks for the bound besides.

#include "routing/roads/hierarchy/travel_table.hpp"
#include "routing/roads/timed/remaining_time.hpp"
#include "routing/roads/timed/timed_path.hpp"

#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

namespace routing::roads::timed {

/// Keeps its working memory from one question to the next (about 80 bytes a node). Refers to the metric and to what is
/// shut, and sees what changes there later. Not for two threads at once.
class TimedFinder {
public:
    TimedFinder(const hierarchy::Metric& metric, const ShutTimes& shut);

    /// Nothing when there is no way, or none within `closed` (12 days). Of equally quick ways it may take another one
    /// than TimedReference.
    std::optional<TimedPath> quickest(const RoadPoint& from, const RoadPoint& to, geo::Instant departure);
    std::optional<Milliseconds> travel_time(const RoadPoint& from, const RoadPoint& to, geo::Instant departure);

    /// The quickest path were no road shut for a time.
    std::optional<Path> path_without_closures(const RoadPoint& from, const RoadPoint& to);
    /// travel_time without looking first whether path_without_closures needs no wait: for a caller that knows it does.
    std::optional<Milliseconds> searched_time(const RoadPoint& from, const RoadPoint& to, geo::Instant departure);

    const ShutTimes& shut_times() const { return shut_; }
    const RoadNetwork& network() const { return metric_.network(); }

private:
    /// The best way known to a node in one zone state; valid when `round` is the current one.
    struct Label {
        Milliseconds time = closed;
        std::uint32_t round = 0;
        std::uint32_t parent = none; ///< label the last arc starts from
        std::uint32_t arc = none;    ///< the last arc; without parent, one along the source's own edge
        bool settled = false;
    };
    struct Arrival {
        Milliseconds time = closed;
        std::uint32_t parent = none; ///< label the last piece starts from; none: the source itself
        bool forward = true;
    };

    /// False when there is no way at all, closures or not.
    bool set_ends(const RoadPoint& from, const RoadPoint& to);
    Milliseconds search(const RoadPoint& from, const RoadPoint& to, geo::Instant departure);
    void seed(const RoadPoint& from, const RoadPoint& to);
    void scan(std::uint32_t label, const RoadPoint& to);
    void offer(std::uint32_t label, Milliseconds time, std::uint32_t parent, std::uint32_t arc);
    void offer_arrival(const RoadPoint& to, bool forward, double start, Milliseconds time, std::uint32_t parent);
    bool is_beaten(std::uint32_t label) const;
    Milliseconds least_remaining(std::uint32_t label);
    TimedPath unwind(const RoadPoint& from, const RoadPoint& to) const;

    const hierarchy::Metric& metric_;
    const ShutTimes& shut_;
    hierarchy::TravelTable table_;
    hierarchy::LegEnds ends_;
    RemainingTime remaining_;
    using NodeTimes = std::vector<std::pair<std::uint32_t, Milliseconds>>; ///< (node, time), by node
    NodeTimes leaving_times_;     ///< without closures in force: from the source over destination-only roads
    NodeTimes entering_times_;    ///< likewise to the target; empty unless it stands on such a road
    Milliseconds whole_time_ = 0; ///< least time of a leg that leaves the destination-only roads it starts on
    geo::Instant departure_;
    std::vector<Label> labels_; ///< [3 * node + zone state]
    std::uint32_t round_ = 0;
    Arrival arrival_;
    std::vector<std::uint64_t> queue_; ///< heap of (time + least remaining time, label)
};

} // namespace routing::roads::timed
