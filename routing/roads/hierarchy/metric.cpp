#include "routing/roads/hierarchy/metric.hpp"

#include <algorithm>
#include <functional>

namespace routing::roads::hierarchy {

namespace {

constexpr Milliseconds sum(Milliseconds a, Milliseconds b) {
    return std::min(a + b, closed);
}

} // namespace

Metric::Metric(const Hierarchy& shape, const RoadNetwork& network, const ClosedEdges& closed_edges)
    : shape_(shape), network_(network), closed_edges_(closed_edges), times_(2 * shape.head.size(), closed) {
    customize();
}

Milliseconds Metric::own_time(std::uint32_t network_arc) const {
    const Arc& arc = network_.arcs[network_arc];
    return network_.edges[value(arc.edge)].destination_only || is_shut(arc.edge) ? closed : arc.time;
}

Milliseconds Metric::least_input(std::uint32_t slot) const {
    Milliseconds least = closed;
    for (const std::uint32_t arc : shape_.inputs_of(slot))
        least = std::min(least, own_time(arc));
    return least;
}

/// Each node pulls the ways over its lower neighbours, so that its arcs are final before any node above asks.
void Metric::customize() {
    for (std::uint32_t arc = 0; arc < network_.arcs.size(); ++arc)
        if (const std::uint32_t slot = shape_.slot[arc]; slot != none)
            times_[slot] = std::min(times_[slot], own_time(arc));
    std::vector<UpArc> arc_to(shape_.size(), none);
    for (Rank node = 0; node < shape_.size(); ++node) {
        for (UpArc arc = shape_.first[node]; arc < shape_.first[node + 1]; ++arc)
            arc_to[shape_.head[arc]] = arc;
        for (std::uint32_t i = shape_.first_below[node]; i < shape_.first_below[node + 1]; ++i) {
            const UpArc lower = shape_.below[i];
            const UpArc last = shape_.first[shape_.tail[lower] + 1];
            // Heads rise: the lower node's arcs beyond `lower` lead above this node, and this node has them all.
            for (UpArc other = lower + 1; other < last; ++other) {
                const UpArc arc = arc_to[shape_.head[other]];
                times_[2 * arc] = std::min(times_[2 * arc], times_[2 * lower + 1] + times_[2 * other]);
                times_[2 * arc + 1] = std::min(times_[2 * arc + 1], times_[2 * other + 1] + times_[2 * lower]);
            }
        }
    }
}

std::pair<Milliseconds, Milliseconds> Metric::recompute(UpArc arc) const {
    Milliseconds up = least_input(2 * arc);
    Milliseconds down = least_input(2 * arc + 1);
    const Rank low = shape_.tail[arc];
    const Rank high = shape_.head[arc];
    for (std::uint32_t i = shape_.first_below[low]; i < shape_.first_below[low + 1]; ++i) {
        const UpArc to_low = shape_.below[i];
        const UpArc to_high = shape_.between(shape_.tail[to_low], high);
        if (to_high == none)
            continue;
        up = std::min(up, sum(times_[2 * to_low + 1], times_[2 * to_high]));
        down = std::min(down, sum(times_[2 * to_high + 1], times_[2 * to_low]));
    }
    return {up, down};
}

/// From low ranks to high: an arc depends only on arcs of lower tails, which come first in the numbering.
void Metric::shut(const std::vector<EdgeIndex>& edges) {
    std::vector<UpArc> heap;
    const auto wake = [&heap](UpArc arc) {
        heap.push_back(arc);
        std::push_heap(heap.begin(), heap.end(), std::greater<>{});
    };
    if (closed_edges_.empty())
        closed_edges_.assign(network_.edges.size(), false);
    for (const EdgeIndex edge : edges) {
        if (is_shut(edge))
            continue;
        closed_edges_[value(edge)] = true;
        shut_since_.push_back(edge);
        for (const bool forward : {true, false})
            for (const std::uint32_t arc : network_.arcs_along(edge, forward))
                if (shape_.slot[arc] != none)
                    wake(shape_.slot[arc] / 2);
    }
    UpArc last = none;
    while (!heap.empty()) {
        std::pop_heap(heap.begin(), heap.end(), std::greater<>{});
        const UpArc arc = heap.back();
        heap.pop_back();
        if (arc == last)
            continue;
        last = arc;
        const auto [up, down] = recompute(arc);
        if (up == times_[2 * arc] && down == times_[2 * arc + 1])
            continue;
        changes_.push_back({arc, times_[2 * arc], times_[2 * arc + 1]});
        times_[2 * arc] = up;
        times_[2 * arc + 1] = down;
        const Rank low = shape_.tail[arc];
        const Rank high = shape_.head[arc];
        for (UpArc other = shape_.first[low]; other < shape_.first[low + 1]; ++other)
            if (other != arc)
                wake(shape_.between(std::min(high, shape_.head[other]), std::max(high, shape_.head[other])));
    }
}

void Metric::reopen() {
    for (auto change = changes_.rbegin(); change != changes_.rend(); ++change) {
        times_[2 * change->arc] = change->up;
        times_[2 * change->arc + 1] = change->down;
    }
    changes_.clear();
    for (const EdgeIndex edge : shut_since_)
        closed_edges_[value(edge)] = false;
    shut_since_.clear();
}

} // namespace routing::roads::hierarchy
