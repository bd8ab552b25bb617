#include "routing/roads/shortest_path.hpp"

#include "routing/roads/zone_state.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <functional>

namespace routing::roads {

namespace {

Milliseconds crossing_time(const Edge& edge, bool forward) {
    return forward ? edge.forward : edge.backward;
}

bool one_point(const RoadPoint& a, const RoadPoint& b) {
    return a.edge == b.edge && a.fraction == b.fraction;
}

constexpr std::uint64_t queue_entry(Milliseconds time, std::uint32_t item) {
    return (std::uint64_t{time} << 32) | item;
}

} // namespace

double driven_fraction(const RoadPoint& point, bool forward) {
    return forward ? point.fraction : 1.0 - point.fraction;
}

Milliseconds time_to_fraction(Milliseconds crossing_time, double fraction) {
    return static_cast<Milliseconds>(std::llround(fraction * static_cast<double>(crossing_time)));
}

Milliseconds piece_time(const RoadNetwork& network, const PathPiece& piece) {
    const Milliseconds crossing = crossing_time(network.edges[value(piece.edge)], piece.forward);
    return time_to_fraction(crossing, piece.to_fraction) - time_to_fraction(crossing, piece.from_fraction);
}

geo::Metres piece_length(const RoadNetwork& network, const PathPiece& piece) {
    const double metres = static_cast<double>(network.edges[value(piece.edge)].metres);
    return {metres * (piece.to_fraction - piece.from_fraction)};
}

PathFinder::PathFinder(const RoadNetwork& network)
    : network_(network), labels_(zone_states * network.node_count()), settled_round_(network.node_count(), 0),
      settled_state_(network.node_count(), 0), first_target_(network.edges.size(), none) {}

void PathFinder::set_targets(const std::vector<RoadPoint>& targets) {
    for (const std::uint32_t edge : marked_edges_)
        first_target_[edge] = none;
    marked_edges_.clear();
    next_target_.assign(targets.size(), none);
    for (std::uint32_t target = 0; target < targets.size(); ++target) {
        const std::uint32_t edge = value(targets[target].edge);
        assert(edge < network_.edges.size());
        next_target_[target] = first_target_[edge];
        first_target_[edge] = target;
        marked_edges_.push_back(edge);
    }
}

void PathFinder::offer(std::uint32_t label, Milliseconds time, std::uint32_t parent, std::uint32_t arc) {
    Label& known = labels_[label];
    if (time >= closed || (known.round == round_ && known.time <= time))
        return;
    known = {time, round_, parent, arc};
    queue_.push_back(queue_entry(time, label));
    std::push_heap(queue_.begin(), queue_.end(), std::greater<>{});
}

void PathFinder::offer_target(std::uint32_t target, Milliseconds time, std::uint32_t parent, bool forward) {
    Target& known = targets_[target];
    if (time >= known.time)
        return;
    known = {time, parent, forward, false};
    queue_.push_back(queue_entry(time, zone_states * network_.node_count() + target));
    std::push_heap(queue_.begin(), queue_.end(), std::greater<>{});
}

void PathFinder::seed(const RoadPoint& source, bool forward, const std::vector<RoadPoint>& targets) {
    const std::uint32_t edge = value(source.edge);
    const Milliseconds crossing = crossing_time(network_.edges[edge], forward);
    if (crossing >= closed)
        return;
    const double start = driven_fraction(source, forward);
    const Milliseconds before = time_to_fraction(crossing, start);
    for (std::uint32_t target = first_target_[edge]; target != none; target = next_target_[target]) {
        const double end = driven_fraction(targets[target], forward);
        if (end >= start)
            offer_target(target, time_to_fraction(crossing, end) - before, none, forward);
    }
    // The arcs of one direction can end at different copies of a junction, each knowing more or less of a restriction's
    // earlier roads. A drive that begins here has none behind it; that copy is among them, and permits all others do.
    for (const std::uint32_t arc : network_.arcs_along(source.edge, forward))
        offer(zone_states * value(network_.arcs[arc].head) + value(first_state(network_.edges[edge].destination_only)),
              crossing - before, forward ? 0 : 1, none);
}

void PathFinder::scan(std::uint32_t label, const std::vector<RoadPoint>& targets) {
    const std::uint32_t node = label / zone_states;
    const auto state = static_cast<ZoneState>(label % zone_states);
    const Milliseconds time = labels_[label].time;
    for (std::uint32_t i = network_.first_arc[node]; i < network_.first_arc[node + 1]; ++i) {
        const Arc& arc = network_.arcs[i];
        const std::uint32_t edge = value(arc.edge);
        const bool destination_only = network_.edges[edge].destination_only;
        if (arc.time >= closed || is_closed(edge) || !may_enter(state, destination_only))
            continue;
        for (std::uint32_t target = first_target_[edge]; target != none; target = next_target_[target]) {
            const double end = driven_fraction(targets[target], arc.forward);
            offer_target(target, time + time_to_fraction(arc.time, end), label, arc.forward);
        }
        offer(zone_states * value(arc.head) + value(next_state(state, destination_only)), time + arc.time, label, i);
    }
}

void PathFinder::search(const RoadPoint& source, const std::vector<RoadPoint>& targets) {
    ++round_;
    assert(round_ != 0 && "four thousand million searches");
    queue_.clear();
    targets_.assign(targets.size(), {});
    std::size_t missing = targets.size();
    for (std::uint32_t target = 0; target < targets.size(); ++target)
        if (one_point(source, targets[target]))
            offer_target(target, 0, none, true);
    if (!is_closed(value(source.edge))) {
        seed(source, true, targets);
        seed(source, false, targets);
    }
    const std::uint32_t label_count = zone_states * network_.node_count();
    while (!queue_.empty() && missing > 0) {
        std::pop_heap(queue_.begin(), queue_.end(), std::greater<>{});
        const auto time = static_cast<Milliseconds>(queue_.back() >> 32);
        const auto item = static_cast<std::uint32_t>(queue_.back());
        queue_.pop_back();
        if (item >= label_count) {
            Target& target = targets_[item - label_count];
            if (!target.reached && time == target.time) {
                target.reached = true;
                --missing;
            }
            continue;
        }
        if (time != labels_[item].time)
            continue;
        // A node met earlier in the same or a freer state has already done all this label could do.
        const std::uint32_t node = item / zone_states;
        const auto state = static_cast<std::uint8_t>(item % zone_states);
        if (settled_round_[node] == round_ && settled_state_[node] <= state)
            continue;
        settled_round_[node] = round_;
        settled_state_[node] = state;
        scan(item, targets);
    }
}

Path PathFinder::unwind(const RoadPoint& from, const RoadPoint& to) const {
    const Target& target = targets_.front();
    Path path;
    path.time = target.time;
    if (one_point(from, to))
        return path;
    const double end = driven_fraction(to, target.forward);
    if (target.parent == none) {
        path.pieces.push_back({to.edge, target.forward, driven_fraction(from, target.forward), end});
    } else {
        path.pieces.push_back({to.edge, target.forward, 0.0, end});
        std::uint32_t label = target.parent;
        for (; labels_[label].arc != none; label = labels_[label].parent) {
            const Arc& arc = network_.arcs[labels_[label].arc];
            path.pieces.push_back({arc.edge, arc.forward, 0.0, 1.0});
        }
        const bool forward = labels_[label].parent == 0;
        path.pieces.push_back({from.edge, forward, driven_fraction(from, forward), 1.0});
        std::reverse(path.pieces.begin(), path.pieces.end());
    }
    std::erase_if(path.pieces, [](const PathPiece& piece) { return piece.from_fraction == piece.to_fraction; });
    for (const PathPiece& piece : path.pieces)
        path.length += piece_length(network_, piece);
    return path;
}

std::optional<Path> PathFinder::quickest_path(const RoadPoint& from, const RoadPoint& to,
                                              const ClosedEdges& closed_edges) {
    assert(closed_edges.empty() || closed_edges.size() == network_.edges.size());
    closed_edges_ = closed_edges.empty() ? nullptr : &closed_edges;
    const std::vector<RoadPoint> targets{to};
    set_targets(targets);
    search(from, targets);
    if (!targets_.front().reached)
        return std::nullopt;
    return unwind(from, to);
}

std::vector<Milliseconds> PathFinder::travel_times(const std::vector<RoadPoint>& sources,
                                                   const std::vector<RoadPoint>& targets,
                                                   const ClosedEdges& closed_edges) {
    assert(closed_edges.empty() || closed_edges.size() == network_.edges.size());
    closed_edges_ = closed_edges.empty() ? nullptr : &closed_edges;
    set_targets(targets);
    std::vector<Milliseconds> times;
    times.reserve(sources.size() * targets.size());
    for (const RoadPoint& source : sources) {
        search(source, targets);
        for (const Target& target : targets_)
            times.push_back(target.reached ? target.time : closed);
    }
    return times;
}

std::optional<Path> quickest_path(const RoadNetwork& network, const RoadPoint& from, const RoadPoint& to,
                                  const ClosedEdges& closed_edges) {
    return PathFinder(network).quickest_path(from, to, closed_edges);
}

std::vector<Milliseconds> travel_times(const RoadNetwork& network, const std::vector<RoadPoint>& sources,
                                       const std::vector<RoadPoint>& targets, const ClosedEdges& closed_edges) {
    return PathFinder(network).travel_times(sources, targets, closed_edges);
}

} // namespace routing::roads
