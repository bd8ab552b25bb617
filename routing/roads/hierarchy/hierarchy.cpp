#include "routing/roads/hierarchy/hierarchy.hpp"

#include "routing/roads/hierarchy/dissection.hpp"

#include <algorithm>
#include <cassert>
#include <numeric>

namespace routing::roads::hierarchy {

namespace {

/// Up-neighbours of every rank. A node's neighbours become its parent's, which is what eliminating it means.
std::vector<std::vector<Rank>> eliminate(const RoadNetwork& network, const std::vector<Rank>& rank) {
    std::vector<std::vector<Rank>> up(rank.size());
    for (std::uint32_t arc = 0; arc < network.arcs.size(); ++arc) {
        const Rank a = rank[network.tail[arc]];
        const Rank b = rank[value(network.arcs[arc].head)];
        if (a != b)
            up[std::min(a, b)].push_back(std::max(a, b));
    }
    for (Rank node = 0; node < up.size(); ++node) {
        std::sort(up[node].begin(), up[node].end());
        up[node].erase(std::unique(up[node].begin(), up[node].end()), up[node].end());
        up[node].shrink_to_fit();
        if (up[node].size() < 2)
            continue;
        std::vector<Rank>& above = up[up[node].front()];
        above.insert(above.end(), up[node].begin() + 1, up[node].end());
    }
    return up;
}

void lay_out(const std::vector<std::vector<Rank>>& up, Hierarchy& shape) {
    shape.first.push_back(0);
    for (Rank node = 0; node < up.size(); ++node) {
        shape.head.insert(shape.head.end(), up[node].begin(), up[node].end());
        shape.tail.insert(shape.tail.end(), up[node].size(), node);
        shape.first.push_back(static_cast<std::uint32_t>(shape.head.size()));
        shape.parent.push_back(up[node].empty() ? none : up[node].front());
    }
    shape.first_below.assign(up.size() + 1, 0);
    for (const Rank head : shape.head)
        ++shape.first_below[head + 1];
    std::partial_sum(shape.first_below.begin(), shape.first_below.end(), shape.first_below.begin());
    shape.below.resize(shape.head.size());
    std::vector<std::uint32_t> next(shape.first_below.begin(), shape.first_below.end() - 1);
    for (UpArc arc = 0; arc < shape.head.size(); ++arc)
        shape.below[next[shape.head[arc]]++] = arc;
}

void assign_inputs(const RoadNetwork& network, Hierarchy& shape) {
    shape.slot.assign(network.arcs.size(), none);
    shape.first_input.assign(2 * shape.head.size() + 1, 0);
    for (std::uint32_t arc = 0; arc < network.arcs.size(); ++arc) {
        const Rank from = shape.rank[network.tail[arc]];
        const Rank to = shape.rank[value(network.arcs[arc].head)];
        if (from == to)
            continue;
        const UpArc along = shape.between(std::min(from, to), std::max(from, to));
        shape.slot[arc] = 2 * along + static_cast<std::uint32_t>(from < to ? Way::up : Way::down);
        ++shape.first_input[shape.slot[arc] + 1];
    }
    std::partial_sum(shape.first_input.begin(), shape.first_input.end(), shape.first_input.begin());
    shape.inputs.resize(shape.first_input.back());
    std::vector<std::uint32_t> next(shape.first_input.begin(), shape.first_input.end() - 1);
    for (std::uint32_t arc = 0; arc < network.arcs.size(); ++arc)
        if (shape.slot[arc] != none)
            shape.inputs[next[shape.slot[arc]]++] = arc;
}

} // namespace

UpArc Hierarchy::between(Rank low, Rank high) const {
    const auto begin = head.begin() + first[low];
    const auto end = head.begin() + first[low + 1];
    const auto found = std::lower_bound(begin, end, high);
    return found != end && *found == high ? static_cast<UpArc>(found - head.begin()) : none;
}

std::vector<std::uint32_t> elimination_order(const RoadNetwork& network) {
    std::vector<NodePair> links;
    links.reserve(network.arcs.size());
    for (std::uint32_t arc = 0; arc < network.arcs.size(); ++arc)
        links.emplace_back(network.tail[arc], value(network.arcs[arc].head));
    return dissection_order(links, network.node_place);
}

Hierarchy build_hierarchy(const RoadNetwork& network, const std::vector<std::uint32_t>& order) {
    assert(order.size() == network.node_count());
    Hierarchy shape;
    shape.rank.resize(order.size());
    for (Rank rank = 0; rank < order.size(); ++rank)
        shape.rank[order[rank]] = rank;
    lay_out(eliminate(network, shape.rank), shape);
    assign_inputs(network, shape);
    return shape;
}

} // namespace routing::roads::hierarchy
