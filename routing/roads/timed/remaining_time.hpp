#pragma once
/// Least time still to drive to one target from any node, had no road been shut for a time: what guides TimedFinder.
///
///     RemainingTime remaining(metric);
///     remaining.set_target(ends.arrivals(harbour, is_shut));
///     const Milliseconds at_least = remaining.from(node);
///
/// Worked out when asked, over the node's ancestors in the elimination tree, and remembered (B. Strasser, T. Zeitz, "A
/// Fast and Tight Heuristic for A* in Road Networks", SEA 2021). Exact on the metric's roads: those open to all, and
/// the destination-only ones around the target.

#include "routing/roads/hierarchy/leg_ends.hpp"
#include "routing/roads/hierarchy/metric.hpp"

#include <cstdint>
#include <vector>

namespace routing::roads::timed {

/// Refers to the metric; set the target again after a change there. Not for two threads at once.
class RemainingTime {
public:
    explicit RemainingTime(const hierarchy::Metric& metric);

    void set_target(const std::vector<hierarchy::LegEnd>& arrivals);
    /// For a van that has been on roads open to all; `closed` when there is no way.
    Milliseconds from(std::uint32_t node);

private:
    const hierarchy::Metric& metric_;
    std::vector<Milliseconds> time_;   ///< by rank, valid when known_ is the current round
    std::vector<std::uint32_t> known_; ///< by rank
    std::vector<Milliseconds> below_;  ///< by rank: over lower ranks alone; `closed` but for ranks_below_
    std::vector<hierarchy::Rank> ranks_below_;
    std::vector<hierarchy::Rank> climb_;
    std::uint32_t round_ = 0;
};

} // namespace routing::roads::timed
