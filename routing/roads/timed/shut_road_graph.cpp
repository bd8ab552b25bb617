#include "routing/roads/timed/shut_road_graph.hpp"

#include "routing/roads/shortest_path.hpp"

#include <algorithm>
#include <chrono>
#include <cstddef>
#include <utility>

namespace routing::roads::timed {

namespace {

using hierarchy::LegEnd;

std::vector<std::vector<LegEnd>> ends_of(const std::vector<RoadPoint>& stops, const hierarchy::TravelTable& ways,
                                         bool onward) {
    std::vector<std::vector<LegEnd>> ends;
    for (const RoadPoint& stop : stops)
        ends.push_back(onward ? ways.departures(stop) : ways.arrivals(stop));
    return ends;
}

Milliseconds sum(Milliseconds a, Milliseconds b) {
    return std::min(a + b, closed); // each is at most `closed`, so this never runs over
}

} // namespace

bool ShutRoadGraph::suits(const RoadNetwork& network, const std::vector<EdgeIndex>& in_play) {
    std::size_t arcs = 0;
    for (const EdgeIndex edge : in_play) {
        if (network.edges[value(edge)].destination_only)
            return false;
        arcs += network.arcs_along(edge, true).size() + network.arcs_along(edge, false).size();
    }
    return arcs <= most_arcs;
}

ShutRoadGraph::ShutRoadGraph(hierarchy::Metric& metric, const ShutTimes& shut, const std::vector<EdgeIndex>& in_play,
                             const std::vector<RoadPoint>& sources, const std::vector<RoadPoint>& targets,
                             const std::vector<Milliseconds>& shut_times)
    : shut_(shut), sources_(sources), targets_(targets), network_(metric.network()), source_(sources.size()),
      target_(targets.size()), searched_source_(sources.size()) {
    std::vector<std::vector<LegEnd>> heads, tails;
    for (const EdgeIndex edge : in_play)
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

    hierarchy::TravelTable ways(metric);
    out_ = ways.times_over(ends_of(sources, ways, true),
                           {tails.begin(), tails.begin() + static_cast<std::ptrdiff_t>(arcs_.size())});
    in_ = ways.times_over({heads.begin(), heads.begin() + static_cast<std::ptrdiff_t>(arcs_.size())},
                          ends_of(targets, ways, false));
    metric.shut(shut.edges_ever_shut());
    std::vector<std::vector<LegEnd>> starts = ends_of(sources, ways, true);
    std::vector<std::vector<LegEnd>> finishes = ends_of(targets, ways, false);
    starts.insert(starts.end(), heads.begin(), heads.end());
    finishes.insert(finishes.end(), tails.begin(), tails.end());
    table_ = ways.times_over(starts, finishes);
    columns_ = finishes.size();
    // A leg along a single road, never shut, is in no table of ends.
    for (std::size_t source = 0; source < sources.size(); ++source)
        for (std::size_t target = 0; target < targets.size(); ++target)
            table_[source * columns_ + target] = shut_times[source * targets.size() + target];
    metric.reopen();
}

Milliseconds ShutRoadGraph::driven(const ShutArc& arc, Milliseconds at, geo::Instant departure) const {
    return at >= closed ? closed : sum(shut_.start_after(arc.edge, departure, at, arc.driving), arc.driving);
}

std::vector<Milliseconds> ShutRoadGraph::search(std::size_t source, geo::Instant departure) const {
    std::vector<Milliseconds> ends(arcs_.size() + first_.size(), closed);
    std::vector<Milliseconds> tails(arcs_.size(), closed);
    const auto pass = [&](std::size_t row, Milliseconds time) {
        for (std::size_t arc = 0; arc < arcs_.size() && time < closed; ++arc)
            tails[arc] = std::min(tails[arc], sum(time, between(row, targets_.size() + arc)));
    };
    pass(source, 0);
    for (std::size_t n = first_of_[source].begin; n < first_of_[source].end; ++n) {
        ends[arcs_.size() + n] = driven(first_[n], 0, departure);
        pass(sources_.size() + arcs_.size() + n, ends[arcs_.size() + n]);
    }
    std::vector<bool> settled(arcs_.size(), false);
    for (;;) {
        std::size_t next = arcs_.size();
        for (std::size_t arc = 0; arc < arcs_.size(); ++arc)
            if (!settled[arc] && tails[arc] < closed && (next == arcs_.size() || tails[arc] < tails[next]))
                next = arc;
        if (next == arcs_.size())
            return ends;
        settled[next] = true;
        ends[next] = driven(arcs_[next], tails[next], departure);
        pass(sources_.size() + next, ends[next]);
    }
}

const std::vector<Milliseconds>& ShutRoadGraph::row_times(std::size_t source, geo::Instant departure) {
    if (source != searched_source_)
        searched_.clear();
    searched_source_ = source;
    const auto [known, is_new] = searched_.try_emplace(departure);
    if (is_new)
        known->second = search(source, departure);
    return known->second;
}

bool ShutRoadGraph::is_bounded(std::size_t source, std::size_t target) const {
    return between(source, target) < closed && first_of_[source].begin == first_of_[source].end &&
           last_of_[target].begin == last_of_[target].end;
}

/// Those over which the pair, which is bounded, can be quicker than by the way round all.
void ShutRoadGraph::choose_arcs(std::size_t source, std::size_t target) {
    if (source == source_ && target == target_)
        return;
    source_ = source;
    target_ = target;
    chosen_.clear();
    for (std::size_t arc = 0; arc < arcs_.size(); ++arc)
        if (sum(sum(least_before(source, arc), arcs_[arc].driving), least_after(arc, target)) < between(source, target))
            chosen_.push_back(arc);
    small_.clear();
    const auto add_row = [&](std::size_t row) {
        for (const std::size_t arc : chosen_)
            small_.push_back(between(row, targets_.size() + arc));
        small_.push_back(between(row, target));
    };
    add_row(source);
    for (const std::size_t arc : chosen_)
        add_row(sources_.size() + arc);
}

std::optional<geo::Intervals> ShutRoadGraph::unsettled(std::size_t source, std::size_t target) {
    if (!is_bounded(source, target))
        return std::nullopt;
    const Milliseconds way_round = between(source, target);
    choose_arcs(source, target);
    geo::Intervals spans;
    // Leaving so long before `when`, at most and at least.
    const auto add = [&](geo::Instant when, Milliseconds most, Milliseconds least) {
        using std::chrono::milliseconds;
        spans.push_back({std::chrono::floor<geo::Seconds>(FineInstant{when} - milliseconds{most}) - geo::Seconds{1},
                         std::chrono::ceil<geo::Seconds>(FineInstant{when} - milliseconds{least}) + geo::Seconds{1}});
    };
    for (const std::size_t arc : chosen_) {
        // The road is reached no sooner than `soonest` after leaving, and is of no use from `latest` on.
        const Milliseconds soonest = least_before(source, arc), driving = arcs_[arc].driving;
        const Milliseconds latest = way_round - driving - least_after(arc, target);
        for (const geo::Interval& shut : shut_.shut_times_of(arcs_[arc].edge)) {
            add(shut.from, latest + driving, soonest + driving);
            add(shut.until, latest, soonest);
        }
    }
    return geo::join(std::move(spans));
}

/// Both on one road that is ever shut, without leaving it; `closed` when there is no such way.
Milliseconds ShutRoadGraph::time_on_one_edge(std::size_t source, std::size_t target, geo::Instant departure) const {
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
        least =
            std::min(least, driven({from.edge, piece_time(network_, {from.edge, forward, start, end})}, 0, departure));
    }
    return least;
}

Milliseconds ShutRoadGraph::time_over_all(std::size_t source, std::size_t target, geo::Instant departure) {
    const std::vector<Milliseconds>& ends = row_times(source, departure);
    const auto reached = [&](std::size_t column) {
        Milliseconds least = between(source, column);
        for (std::size_t n = 0; n < ends.size(); ++n)
            least = std::min(least, sum(ends[n], between(sources_.size() + n, column)));
        return least;
    };
    Milliseconds least = std::min(reached(target), time_on_one_edge(source, target, departure));
    for (std::size_t n = last_of_[target].begin; n < last_of_[target].end; ++n)
        least = std::min(least, driven(last_[n], reached(targets_.size() + arcs_.size() + n), departure));
    return least;
}

Milliseconds ShutRoadGraph::time_over_chosen(std::size_t source, std::size_t target, geo::Instant departure) {
    choose_arcs(source, target);
    const std::size_t count = chosen_.size();
    std::vector<Milliseconds> reached(count + 1, closed); // chosen arcs, and the target
    const auto pass = [&](std::size_t row, Milliseconds time) {
        const Milliseconds* times = small_.data() + row * reached.size();
        for (std::size_t n = 0; n < reached.size(); ++n)
            reached[n] = std::min(reached[n], time + times[n]); // each is at most `closed`, so this never runs over
    };
    pass(0, 0);
    std::vector<bool> settled(count, false);
    for (;;) {
        std::size_t next = count;
        for (std::size_t n = 0; n < count; ++n)
            if (!settled[n] && reached[n] < reached[count] && (next == count || reached[n] < reached[next]))
                next = n;
        if (next == count)
            return reached[count];
        settled[next] = true;
        pass(1 + next, driven(arcs_[chosen_[next]], reached[next], departure));
    }
}

Milliseconds ShutRoadGraph::time(std::size_t source, std::size_t target, geo::Instant departure) {
    return is_bounded(source, target) ? time_over_chosen(source, target, departure)
                                      : time_over_all(source, target, departure);
}

} // namespace routing::roads::timed
