#include "routing/roads/timed/timed_reference.hpp"

#include "routing/roads/zone_state.hpp"

#include <algorithm>
#include <cassert>
#include <functional>

namespace routing::roads::timed {

TimedReference::TimedReference(const RoadNetwork& network, const ShutTimes& shut)
    : network_(network), shut_(shut), labels_(zone_states * std::size_t{network.node_count()}),
      is_target_edge_(network.edges.size(), false) {}

void TimedReference::offer(std::uint32_t label, Milliseconds time, std::uint32_t parent, std::uint32_t arc) {
    if (time >= labels_[label].time)
        return;
    if (labels_[label].time == closed)
        met_.push_back(label);
    labels_[label] = {time, parent, arc};
    queue_.push_back((std::uint64_t{time} << 32) | label);
    std::push_heap(queue_.begin(), queue_.end(), std::greater<>{});
}

/// To the targets on an edge, driven from `start` of it by a van that is there at `time`.
void TimedReference::offer_targets(const std::vector<RoadPoint>& to, EdgeIndex edge, bool forward, double start,
                                   Milliseconds time, std::uint32_t parent) {
    for (std::size_t i = 0; i < to.size(); ++i) {
        const double end = driven_fraction(to[i], forward);
        if (to[i].edge != edge || end < start)
            continue;
        const Milliseconds driving = piece_time(network_, {edge, forward, start, end});
        const Milliseconds arrival = shut_.start_after(edge, departure_, time, driving) + driving;
        if (arrival < targets_[i].time)
            targets_[i] = {arrival, parent, forward};
    }
}

void TimedReference::seed(const RoadPoint& from, const std::vector<RoadPoint>& to) {
    const bool destination_only = network_.edges[value(from.edge)].destination_only;
    for (const bool forward : {true, false})
        for (const std::uint32_t arc : network_.arcs_along(from.edge, forward)) {
            const double start = driven_fraction(from, forward);
            offer_targets(to, from.edge, forward, start, 0, none);
            const Milliseconds driving = piece_time(network_, {from.edge, forward, start, 1.0});
            offer(zone_states * value(network_.arcs[arc].head) + value(first_state(destination_only)),
                  shut_.start_after(from.edge, departure_, 0, driving) + driving, none, arc);
        }
}

void TimedReference::scan(std::uint32_t label, const std::vector<RoadPoint>& to) {
    const std::uint32_t node = label / zone_states;
    const auto state = static_cast<ZoneState>(label % zone_states);
    const Milliseconds time = labels_[label].time;
    for (std::uint32_t i = network_.first_arc[node]; i < network_.first_arc[node + 1]; ++i) {
        const Arc& arc = network_.arcs[i];
        const bool destination_only = network_.edges[value(arc.edge)].destination_only;
        if (arc.time >= closed || is_closed(arc.edge) || !may_enter(state, destination_only))
            continue;
        if (is_target_edge_[value(arc.edge)])
            offer_targets(to, arc.edge, arc.forward, 0.0, time, label);
        offer(zone_states * value(arc.head) + value(next_state(state, destination_only)),
              shut_.start_after(arc.edge, departure_, time, arc.time) + arc.time, label, i);
    }
}

void TimedReference::search(const RoadPoint& from, const std::vector<RoadPoint>& to) {
    for (const std::uint32_t label : met_)
        labels_[label] = {};
    met_.clear();
    targets_.assign(to.size(), {});
    queue_.clear();
    for (std::size_t i = 0; i < to.size(); ++i) {
        is_target_edge_[value(to[i].edge)] = true;
        if (to[i].edge == from.edge && to[i].fraction == from.fraction)
            targets_[i].time = 0;
    }
    if (!is_closed(from.edge))
        seed(from, to);
    Milliseconds last_target = closed;
    while (!queue_.empty()) {
        std::pop_heap(queue_.begin(), queue_.end(), std::greater<>{});
        const auto time = static_cast<Milliseconds>(queue_.back() >> 32);
        const auto label = static_cast<std::uint32_t>(queue_.back());
        queue_.pop_back();
        if (time != labels_[label].time)
            continue;
        if (time >= last_target)
            break;
        scan(label, to);
        last_target = 0;
        for (const Target& target : targets_)
            last_target = std::max(last_target, target.time);
    }
    for (const RoadPoint& target : to)
        is_target_edge_[value(target.edge)] = false;
}

std::vector<Milliseconds> TimedReference::travel_times(const RoadPoint& from, const std::vector<RoadPoint>& to,
                                                       geo::Instant departure, const ClosedEdges& closed_edges) {
    assert(closed_edges.empty() || closed_edges.size() == network_.edges.size());
    closed_edges_ = closed_edges.empty() ? nullptr : &closed_edges;
    departure_ = departure;
    search(from, to);
    std::vector<Milliseconds> times;
    times.reserve(to.size());
    for (const Target& target : targets_)
        times.push_back(target.time);
    return times;
}

std::optional<TimedPath> TimedReference::quickest(const RoadPoint& from, const RoadPoint& to, geo::Instant departure,
                                                  const ClosedEdges& closed_edges) {
    const Milliseconds time = travel_times(from, {to}, departure, closed_edges).front();
    if (time >= closed)
        return std::nullopt;
    if (from.edge == to.edge && from.fraction == to.fraction)
        return TimedPath{};
    const Target& target = targets_.front();
    std::vector<PathPiece> pieces;
    if (target.parent == none) {
        pieces.push_back(
            {to.edge, target.forward, driven_fraction(from, target.forward), driven_fraction(to, target.forward)});
    } else {
        pieces.push_back({to.edge, target.forward, 0.0, driven_fraction(to, target.forward)});
        for (std::uint32_t label = target.parent; label != none; label = labels_[label].parent) {
            const Arc& arc = network_.arcs[labels_[label].arc];
            const bool first = labels_[label].parent == none;
            pieces.push_back({arc.edge, arc.forward, first ? driven_fraction(from, arc.forward) : 0.0, 1.0});
        }
        std::reverse(pieces.begin(), pieces.end());
    }
    TimedPath path = drive(network_, shut_, pieces, departure);
    assert(path.time == time);
    return path;
}

} // namespace routing::roads::timed
