#pragma once
/// Travel times of many legs at any hour, under closures in force for a time.
///
///     TimedLegs legs(metric, shut, stops, stops);
///     if (!legs.unsettled(3, 5).empty())
///         const Milliseconds time = legs.time(3, 5, departure);
///
/// With all of these roads open all along, and with all of them shut all along: the two enclose every leg at every
/// hour, so where they agree the leg is settled. Of the rest, a departure is settled by the quickest way on open roads
/// when that needs no wait, and by the way round when every road stays shut for as long as that takes. What is left is
/// worked out by ShutRoadGraph, over those of the roads that can matter to these stops (roads_in_play.hpp).
///
/// Where that does not suit (`is_exact()` false: more of them than ShutRoadGraph::most_arcs, or destination-only ones
/// around a stop), a departure that would meet a closure on the quickest way takes the way round all of these roads.
/// Never too short a time, but a way over some of them while they are open, and a wait on the road, are then not seen.

#include "routing/roads/timed/shut_road_graph.hpp"
#include "routing/roads/timed/timed_path.hpp"

#include <cstddef>
#include <optional>
#include <vector>

namespace routing::roads::timed {

/// Refers to metric and closures, which must stay as they are. Not for two threads at once.
class TimedLegs {
public:
    /// The metric is as before when this is done.
    TimedLegs(hierarchy::Metric& metric, const ShutTimes& shut, std::vector<RoadPoint> sources,
              std::vector<RoadPoint> targets);

    bool is_exact() const { return graph_.has_value(); }
    /// One time at every hour.
    bool is_settled(std::size_t source, std::size_t target) const {
        return open_times_[pair(source, target)] == shut_times_[pair(source, target)];
    }
    Milliseconds least_time(std::size_t source, std::size_t target) const { return open_times_[pair(source, target)]; }
    Milliseconds longest_time(std::size_t source, std::size_t target) const {
        return shut_times_[pair(source, target)];
    }
    /// Departures, ends excluded, within which the time may change; none when the leg is settled. From one such span to
    /// the next it stays.
    geo::Intervals unsettled(std::size_t source, std::size_t target);
    /// Waits included; `closed` when there is no way within that (12 days).
    Milliseconds time(std::size_t source, std::size_t target, geo::Instant departure);

private:
    std::size_t pair(std::size_t source, std::size_t target) const { return source * targets_.size() + target; }
    const std::vector<ShutStretch>& stretches(std::size_t source, std::size_t target);
    geo::Intervals may_meet_closure(std::size_t source, std::size_t target);
    bool all_stay_shut(geo::Instant departure, Milliseconds time) const;

    const hierarchy::Metric& metric_;
    const ShutTimes& shut_;
    std::vector<RoadPoint> sources_;
    std::vector<RoadPoint> targets_;
    hierarchy::TravelTable table_;
    std::vector<Milliseconds> open_times_;
    std::vector<Milliseconds> shut_times_;
    std::optional<ShutRoadGraph> graph_;
    geo::Intervals all_shut_;                                        ///< when every road in play is shut
    geo::Intervals ever_shut_;                                       ///< when any of them is
    std::vector<std::optional<std::vector<ShutStretch>>> stretches_; ///< [pair], of the way on open roads, when needed
};

} // namespace routing::roads::timed
