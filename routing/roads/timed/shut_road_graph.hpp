#pragma once
/// Travel times under closures in force for a time, over a graph of nothing but the roads ever shut and the ways
/// between them: exact, and without a search of the network.
///
///     if (ShutRoadGraph::suits(network, shut)) {
///         ShutRoadGraph graph(metric, shut, stops, stops);
///         const Milliseconds time = graph.time(3, 5, departure);
///     }
///
/// A leg is a chain of roads ever shut, driven when they are open, with ways between them on roads never shut. The
/// latter always take the same time: the hierarchy tells them all in one table. What is left is Dijkstra's algorithm
/// over a few dozen arcs, exact because who leaves later arrives no earlier.

#include "routing/roads/hierarchy/travel_table.hpp"
#include "routing/roads/timed/shut_times.hpp"

#include <cstddef>
#include <vector>

namespace routing::roads::timed {

/// Refers to what is shut. Not for two threads at once.
class ShutRoadGraph {
public:
    /// Beyond it the table of all pairs of arcs is no longer small.
    static constexpr std::size_t most_arcs = 400;
    /// Roads for destination traffic only don't fit in: whether they may be driven depends on the rest of the leg.
    static bool suits(const RoadNetwork& network, const ShutTimes& shut);

    /// The metric is as before when this is done.
    ShutRoadGraph(hierarchy::Metric& metric, const ShutTimes& shut, const std::vector<RoadPoint>& sources,
                  const std::vector<RoadPoint>& targets);

    /// Waits included; `closed` when there is no way within that (12 days). Asking for one source and departure after
    /// the other is quickest.
    Milliseconds time(std::size_t source, std::size_t target, geo::Instant departure);

private:
    /// One direction of a road ever shut, or the part of it a stop on that road drives.
    struct ShutArc {
        EdgeIndex edge{};
        Milliseconds driving = 0;
    };
    /// Positions in `arcs_` and in the table's rows or columns of a stop's own stretches; empty off the shut roads.
    struct OwnStretches {
        std::size_t begin = 0, end = 0;
    };
    Milliseconds between(std::size_t row, std::size_t column) const { return table_[row * columns_ + column]; }
    Milliseconds driven(const ShutArc& arc, Milliseconds at) const;
    void leave(std::size_t source, geo::Instant departure);
    void pass(std::size_t row, Milliseconds time);
    Milliseconds time_on_one_edge(std::size_t source, std::size_t target) const;

    const ShutTimes& shut_;
    std::vector<RoadPoint> sources_, targets_;
    std::vector<ShutArc> arcs_;
    std::vector<ShutArc> first_, last_;            ///< stretches of sources and of targets
    std::vector<OwnStretches> first_of_, last_of_; ///< by source, by target
    /// Times without the shut roads. Rows: sources, heads of arcs_, heads of first_. Columns: targets, tails of arcs_,
    /// tails of last_.
    std::vector<Milliseconds> table_;
    std::size_t columns_ = 0;
    const RoadNetwork& network_;

    // The last question's source and departure.
    std::size_t source_;
    geo::Instant departure_;
    std::vector<Milliseconds> reached_; ///< by column
};

} // namespace routing::roads::timed
