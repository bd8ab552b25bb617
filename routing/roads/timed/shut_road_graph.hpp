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
#include <optional>
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

    /// Waits included; `closed` when there is no way within that (12 days). Asking for one pair after the other, source
    /// by source, is quickest.
    Milliseconds time(std::size_t source, std::size_t target, geo::Instant departure);
    /// Departures, ends excluded, within which the time may change: around each closing and reopening of a road that
    /// can matter to the pair, for as long as going over it can be quicker than the way round all. Nothing when there
    /// is no such bound: no way round, or a stop on a road that is ever shut.
    std::optional<geo::Intervals> unsettled(std::size_t source, std::size_t target);

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
    /// Whether a way round all roads bounds how long it can take to go over some.
    bool is_bounded(std::size_t source, std::size_t target) const;
    Milliseconds time_over_chosen(std::size_t source, std::size_t target, geo::Instant departure);
    /// Over all roads in play, from one search a source and departure.
    Milliseconds time_over_all(std::size_t source, std::size_t target, geo::Instant departure);
    /// When the end of each row but the sources' is reached from a source; `closed`: never.
    const std::vector<Milliseconds>& row_times(std::size_t source, geo::Instant departure);
    std::vector<Milliseconds> search(std::size_t source, geo::Instant departure) const;
    Milliseconds least_before(std::size_t source, std::size_t arc) const { return out_[source * arcs_.size() + arc]; }
    Milliseconds least_after(std::size_t arc, std::size_t target) const { return in_[arc * targets_.size() + target]; }
    void choose_arcs(std::size_t source, std::size_t target);
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

    std::vector<Milliseconds> out_, in_; ///< with all roads open: sources by tails of arcs_, heads of arcs_ by targets

    std::size_t source_, target_;     ///< of the last question
    std::vector<std::size_t> chosen_; ///< arcs that can matter to it
    /// Of table_ what that question needs. Rows: the source, heads of chosen arcs; columns: tails of chosen arcs,
    /// target.
    std::vector<Milliseconds> small_;
    std::size_t searched_source_;                                ///< of the last search over all
    std::map<geo::Instant, std::vector<Milliseconds>> searched_; ///< its departures
};

} // namespace routing::roads::timed
