#include "routing/roads/hierarchy/hierarchy.hpp"

#include "routing/roads/hierarchy/dissection.hpp"

#include <algorithm>
#include <cassert>
#include <numeric>
#include <utility>

namespace routing::roads::hierarchy {

namespace {

/// Up-neighbours of every rank, into first, head, tail and parent. A node's neighbours become its parent's, which is
/// what eliminating it means; by rising rank a node is complete when its turn comes.
void eliminate(const RoadNetwork& network, Hierarchy& shape) {
    const std::size_t nodes = shape.rank.size();
    const auto for_each_link = [&](const auto& use) {
        for (std::uint32_t arc = 0; arc < network.arcs.size(); ++arc) {
            const Rank a = shape.rank[network.tail[arc]];
            const Rank b = shape.rank[value(network.arcs[arc].head)];
            if (a != b)
                use(std::min(a, b), std::max(a, b));
        }
    };
    std::vector<std::uint32_t> first_link(nodes + 1, 0);
    for_each_link([&](Rank low, Rank) { ++first_link[low + 1]; });
    std::partial_sum(first_link.begin(), first_link.end(), first_link.begin());
    std::vector<Rank> links(first_link.back());
    std::vector<std::uint32_t> next(first_link.begin(), first_link.end() - 1);
    for_each_link([&](Rank low, Rank high) { links[next[low]++] = high; });

    std::vector<Rank> first_child(nodes, none), next_child(nodes, none);
    std::vector<Rank> above;
    shape.first.reserve(nodes + 1);
    shape.parent.reserve(nodes);
    shape.head.reserve(links.size());
    shape.first.push_back(0);
    for (Rank node = 0; node < nodes; ++node) {
        above.assign(links.begin() + first_link[node], links.begin() + first_link[node + 1]);
        for (Rank child = first_child[node]; child != none; child = next_child[child])
            above.insert(above.end(), shape.head.begin() + shape.first[child] + 1,
                         shape.head.begin() + shape.first[child + 1]);
        std::sort(above.begin(), above.end());
        above.erase(std::unique(above.begin(), above.end()), above.end());
        shape.head.insert(shape.head.end(), above.begin(), above.end());
        shape.first.push_back(static_cast<std::uint32_t>(shape.head.size()));
        shape.parent.push_back(above.empty() ? none : above.front());
        if (!above.empty())
            next_child[node] = std::exchange(first_child[above.front()], node);
    }
    shape.tail.resize(shape.head.size());
    for (Rank node = 0; node < nodes; ++node)
        std::fill(shape.tail.begin() + shape.first[node], shape.tail.begin() + shape.first[node + 1], node);
}

void find_below(Hierarchy& shape) {
    shape.first_below.assign(shape.rank.size() + 1, 0);
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
    eliminate(network, shape);
    find_below(shape);
    assign_inputs(network, shape);
    return shape;
}

} // namespace routing::roads::hierarchy
