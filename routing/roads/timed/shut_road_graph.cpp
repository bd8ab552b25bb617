#include "routing/roads/timed/shut_road_graph.hpp"

#include "routing/roads/shortest_path.hpp"

#include <algorithm>

namespace routing::roads::timed {

namespace {

using hierarchy::LegEnd;

Milliseconds sum(Milliseconds a, Milliseconds b) {
    return std::min(a + b, closed); // each is at most `closed`, so this never runs over
}

} // namespace

bool ShutRoadGraph::suits(const RoadNetwork& network, const ShutTimes& shut) {
    std::size_t arcs = 0;
    for (const EdgeIndex edge : shut.edges_ever_shut()) {
        if (network.edges[value(edge)].destination_only)
            return false;
        arcs += network.arcs_along(edge, true).size() + network.arcs_along(edge, false).size();
    }
    return arcs <= most_arcs;
}

ShutRoadGraph::ShutRoadGraph(hierarchy::Metric& metric, const ShutTimes& shut, const std::vector<RoadPoint>& sources,
                             const std::vector<RoadPoint>& targets)
    : shut_(shut), sources_(sources), targets_(targets), network_(metric.network()), source_(sources.size()) {
    std::vector<std::vector<LegEnd>> heads, tails;
    for (const EdgeIndex edge : shut.edges_ever_shut())
        for (const bool forward : {true, false})
            for (const std::uint32_t arc : network_.arcs_along(edge, forward)) {
                if (metric.is_shut(edge))
                    continue;
                arcs_.push_back({edge, network_.arcs[arc].time});
                heads.push_back({{value(network_.arcs[arc].head), 0}});
                tails.push_back({{network_.tail[arc], 0}});
            }
    const auto own_stretches = [&](const RoadPoint& point, bool onward, std::vector<ShutArc>& stretches,
                                   std::vector<std::vector<LegEnd>>& ends) {
        OwnStretches own{stretches.size(), stretches.size()};
        if (!shut.is_ever_shut(point.edge) || metric.is_shut(point.edge))
            return own;
        for (const bool forward : {true, false})
            for (const std::uint32_t arc : network_.arcs_along(point.edge, forward)) {
                const double at = driven_fraction(point, forward);
                stretches.push_back(
                    {point.edge, piece_time(network_, {point.edge, forward, onward ? at : 0.0, onward ? 1.0 : at})});
                ends.push_back({{onward ? value(network_.arcs[arc].head) : network_.tail[arc], 0}});
            }
        own.end = stretches.size();
        return own;
    };
    for (const RoadPoint& source : sources)
        first_of_.push_back(own_stretches(source, true, first_, heads));
    for (const RoadPoint& target : targets)
        last_of_.push_back(own_stretches(target, false, last_, tails));

    metric.shut(shut.edges_ever_shut());
    hierarchy::TravelTable ways(metric);
    std::vector<std::vector<LegEnd>> starts, finishes;
    for (const RoadPoint& source : sources)
        starts.push_back(ways.departures(source));
    for (const RoadPoint& target : targets)
        finishes.push_back(ways.arrivals(target));
    starts.insert(starts.end(), heads.begin(), heads.end());
    finishes.insert(finishes.end(), tails.begin(), tails.end());
    table_ = ways.times_over(starts, finishes);
    columns_ = finishes.size();
    // A leg along a single road, never shut.
    const std::vector<Milliseconds> whole = ways.times(sources, targets);
    for (std::size_t source = 0; source < sources.size(); ++source)
        for (std::size_t target = 0; target < targets.size(); ++target)
            table_[source * columns_ + target] = whole[source * targets.size() + target];
    metric.reopen();
}

Milliseconds ShutRoadGraph::driven(const ShutArc& arc, Milliseconds at) const {
    return at >= closed ? closed : sum(shut_.start_after(arc.edge, departure_, at, arc.driving), arc.driving);
}

/// From the end of a row, reached at `time`, on to every column.
void ShutRoadGraph::pass(std::size_t row, Milliseconds time) {
    if (time >= closed)
        return;
    for (std::size_t column = 0; column < columns_; ++column)
        reached_[column] = std::min(reached_[column], sum(time, between(row, column)));
}

void ShutRoadGraph::leave(std::size_t source, geo::Instant departure) {
    source_ = source;
    departure_ = departure;
    reached_.assign(columns_, closed);
    pass(source, 0);
    for (std::size_t n = first_of_[source].begin; n < first_of_[source].end; ++n)
        pass(sources_.size() + arcs_.size() + n, driven(first_[n], 0));
    std::vector<bool> settled(arcs_.size(), false);
    for (;;) {
        std::size_t next = arcs_.size();
        for (std::size_t arc = 0; arc < arcs_.size(); ++arc)
            if (!settled[arc] && reached_[targets_.size() + arc] < closed &&
                (next == arcs_.size() || reached_[targets_.size() + arc] < reached_[targets_.size() + next]))
                next = arc;
        if (next == arcs_.size())
            return;
        settled[next] = true;
        pass(sources_.size() + next, driven(arcs_[next], reached_[targets_.size() + next]));
    }
}

/// Both on one road that is ever shut, without leaving it; `closed` when there is no such way.
Milliseconds ShutRoadGraph::time_on_one_edge(std::size_t source, std::size_t target) const {
    const RoadPoint& from = sources_[source];
    const RoadPoint& to = targets_[target];
    if (from.edge != to.edge)
        return closed;
    if (from.fraction == to.fraction)
        return 0;
    Milliseconds least = closed;
    for (const bool forward : {true, false}) {
        const double start = driven_fraction(from, forward);
        const double end = driven_fraction(to, forward);
        if (first_of_[source].begin == first_of_[source].end || network_.arcs_along(from.edge, forward).empty() ||
            end < start)
            continue;
        least = std::min(least, driven({from.edge, piece_time(network_, {from.edge, forward, start, end})}, 0));
    }
    return least;
}

Milliseconds ShutRoadGraph::time(std::size_t source, std::size_t target, geo::Instant departure) {
    if (source != source_ || departure != departure_)
        leave(source, departure);
    Milliseconds least = std::min(reached_[target], time_on_one_edge(source, target));
    for (std::size_t n = last_of_[target].begin; n < last_of_[target].end; ++n)
        least = std::min(least, driven(last_[n], reached_[targets_.size() + arcs_.size() + n]));
    return least;
}

} // namespace routing::roads::timed
