#include "routing/roads/round_trip.hpp"

#include <algorithm>
#include <limits>

namespace routing::roads {

namespace {

/// Arcs as plain lists of neighbours, one way round or the other.
struct Links {
    struct Link {
        std::uint32_t node;
        bool destination_only;
    };
    std::vector<std::uint32_t> first;
    std::vector<Link> links;
};

enum class Direction { with_traffic, against_traffic };

Links links_of(const RoadNetwork& network, Direction direction) {
    const std::uint32_t nodes = network.node_count();
    Links result;
    result.first.assign(nodes + 1, 0);
    const auto each_arc = [&](auto&& use) {
        for (std::uint32_t node = 0; node < nodes; ++node)
            for (const Arc& arc : network.arcs_from(NodeIndex{node})) {
                const bool restricted = network.edges[value(arc.edge)].destination_only;
                if (direction == Direction::with_traffic)
                    use(node, Links::Link{value(arc.head), restricted});
                else
                    use(value(arc.head), Links::Link{node, restricted});
            }
    };
    each_arc([&](std::uint32_t from, Links::Link) { ++result.first[from + 1]; });
    for (std::uint32_t node = 0; node < nodes; ++node)
        result.first[node + 1] += result.first[node];
    result.links.resize(network.arcs.size());
    auto next = result.first;
    each_arc([&](std::uint32_t from, Links::Link link) { result.links[next[from]++] = link; });
    return result;
}

/// Nodes of the largest strong component when only some links may be used; the first found wins a tie.
/// Tarjan, "Depth-first search and linear graph algorithms", SIAM J. Computing 1(2), 1972, without recursion.
std::vector<std::uint32_t> largest_strong_component(const Links& links, bool use_destination_only) {
    const auto nodes = static_cast<std::uint32_t>(links.first.size() - 1);
    constexpr std::uint32_t unseen = std::numeric_limits<std::uint32_t>::max();
    std::vector<std::uint32_t> number(nodes, unseen), low(nodes), next(links.first.begin(), links.first.end() - 1);
    std::vector<bool> stacked(nodes, false);
    std::vector<std::uint32_t> stack, trail, best;
    std::uint32_t count = 0;
    for (std::uint32_t root = 0; root < nodes; ++root) {
        if (number[root] != unseen)
            continue;
        const auto enter = [&](std::uint32_t node) {
            number[node] = low[node] = count++;
            stack.push_back(node);
            stacked[node] = true;
            trail.push_back(node);
        };
        enter(root);
        while (!trail.empty()) {
            const std::uint32_t node = trail.back();
            if (next[node] < links.first[node + 1]) {
                const auto [head, destination_only] = links.links[next[node]++];
                if (destination_only && !use_destination_only)
                    continue;
                if (number[head] == unseen)
                    enter(head);
                else if (stacked[head])
                    low[node] = std::min(low[node], number[head]);
                continue;
            }
            trail.pop_back();
            if (!trail.empty())
                low[trail.back()] = std::min(low[trail.back()], low[node]);
            if (low[node] != number[node])
                continue;
            const auto begin = std::find(stack.rbegin(), stack.rend(), node).base() - 1;
            if (static_cast<std::size_t>(stack.end() - begin) > best.size())
                best.assign(begin, stack.end());
            for (auto member = begin; member != stack.end(); ++member)
                stacked[*member] = false;
            stack.erase(begin, stack.end());
        }
    }
    return best;
}

/// Nodes met from `from` over links open to all, and nodes met when a last stretch for destination traffic is added.
struct Reach {
    std::vector<bool> open;
    std::vector<bool> any;
};

Reach reach(const Links& links, const std::vector<std::uint32_t>& from) {
    const std::size_t nodes = links.first.size() - 1;
    Reach result{std::vector<bool>(nodes, false), {}};
    std::vector<std::uint32_t> queue = from;
    const auto spread = [&](std::vector<bool>& met, bool over_destination_only) {
        while (!queue.empty()) {
            const std::uint32_t node = queue.back();
            queue.pop_back();
            for (std::uint32_t i = links.first[node]; i < links.first[node + 1]; ++i) {
                const auto [head, destination_only] = links.links[i];
                if (destination_only == over_destination_only && !met[head]) {
                    met[head] = true;
                    queue.push_back(head);
                }
            }
        }
    };
    for (const std::uint32_t node : from)
        result.open[node] = true;
    spread(result.open, false);
    result.any = result.open;
    for (std::uint32_t node = 0; node < nodes; ++node)
        if (result.open[node])
            queue.push_back(node);
    spread(result.any, true);
    return result;
}

} // namespace

std::vector<bool> round_trip_edges(const RoadNetwork& network) {
    std::vector<bool> usable(network.edges.size(), false);
    const Links onward = links_of(network, Direction::with_traffic);
    auto core = largest_strong_component(onward, false);
    // Where every road is for destination traffic, the whole map is one zone.
    if (core.size() < 2)
        core = largest_strong_component(onward, true);
    const Reach there = reach(onward, core);
    const Reach back = reach(links_of(network, Direction::against_traffic), core);

    std::vector<bool> arrivable(network.edges.size(), false);
    for (std::uint32_t node = 0; node < network.node_count(); ++node)
        for (const Arc& arc : network.arcs_from(NodeIndex{node})) {
            const std::uint32_t edge = value(arc.edge);
            if (network.edges[edge].destination_only ? there.any[node] : there.open[node])
                arrivable[edge] = true;
        }
    for (std::uint32_t node = 0; node < network.node_count(); ++node)
        for (const Arc& arc : network.arcs_from(NodeIndex{node})) {
            const std::uint32_t edge = value(arc.edge);
            const std::uint32_t head = value(arc.head);
            if (arrivable[edge] && (network.edges[edge].destination_only ? back.any[head] : back.open[head]))
                usable[edge] = true;
        }
    return usable;
}

} // namespace routing::roads
