#pragma once
/// Travel times under closures in force for a time, over a graph of nothing but the roads ever shut and the ways
/// between them: exact, and without a search of the network.
///
///     const auto few = roads_in_play(metric, shut, stops, stops, ShutRoadGraph::most_arcs);
///     if (ShutRoadGraph::suits(network, few)) {
///         ShutRoadGraph graph(metric, shut, few, stops, stops, shut_times);
///         const Milliseconds time = graph.time(3, 5, departure);
///     }
///
/// A leg is a chain of roads ever shut, driven when they are open, with ways between them on roads never shut. The
/// latter always take the same time: the hierarchy tells them all in one table. What is left is Dijkstra's algorithm
/// over a few dozen arcs, exact because who leaves later arrives no earlier.

#include "routing/roads/hierarchy/travel_table.hpp"
#include "routing/roads/timed/shut_times.hpp"

#include <cstddef>
#include <map>
#include <vector>

namespace routing::roads::timed {

/// Refers to what is shut. Not for two threads at once.
class ShutRoadGraph {
public:
    /// Beyond it the table of all pairs of arcs is no longer small.
    static constexpr std::size_t most_arcs = 400;
    /// Roads for destination traffic only don't fit in: whether they may be driven depends on the rest of the leg.
    static bool suits(const RoadNetwork& network, const std::vector<EdgeIndex>& in_play);

    /// `in_play`: of the roads ever shut those to be driven when they are open; the others count as shut for good.
    /// `shut_times`: from each source to each target with all of the roads shut all along. The metric is as before when
    /// this is done.
    ShutRoadGraph(hierarchy::Metric& metric, const ShutTimes& shut, const std::vector<EdgeIndex>& in_play,
                  const std::vector<RoadPoint>& sources, const std::vector<RoadPoint>& targets,
                  const std::vector<Milliseconds>& shut_times);

    /// Waits included; `closed` when there is no way within that (12 days). Asking for one source after the other is
    /// quickest.
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
    Milliseconds driven(const ShutArc& arc, Milliseconds at, geo::Instant departure) const;
    /// When the end of each row but the sources' is reached from a source; `closed`: never.
    const std::vector<Milliseconds>& row_times(std::size_t source, geo::Instant departure);
    std::vector<Milliseconds> search(std::size_t source, geo::Instant departure) const;
    Milliseconds time_on_one_edge(std::size_t source, std::size_t target, geo::Instant departure) const;

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

    std::size_t source_;                                         ///< of the last question
    std::map<geo::Instant, std::vector<Milliseconds>> searched_; ///< its departures
};

} // namespace routing::roads::timed
