#include "routing/roads/round_trip.hpp"

#include "routing/roads/strong_components.hpp"

namespace routing::roads {

namespace {

/// Arcs as lists of neighbours in CSR form, one way round or the other.
struct Links {
    struct Link {
        std::uint32_t node;
        bool destination_only;
    };
    std::vector<std::uint32_t> first;
    std::vector<Link> links;
};

Links links_of(const RoadNetwork& network, bool with_traffic) {
    const std::uint32_t nodes = network.node_count();
    Links result;
    result.first.assign(nodes + 1, 0);
    const auto each_arc = [&](auto&& use) {
        for (std::uint32_t node = 0; node < nodes; ++node)
            for (const Arc& arc : network.arcs_from(NodeIndex{node})) {
                const bool destination_only = network.edges[value(arc.edge)].destination_only;
                if (with_traffic)
                    use(node, Links::Link{value(arc.head), destination_only});
                else
                    use(value(arc.head), Links::Link{node, destination_only});
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

/// Nodes of the largest strong component, over destination-only links or not; the smallest node's wins a tie.
std::vector<std::uint32_t> largest_strong_component(const Links& links, bool use_destination_only) {
    const auto nodes = static_cast<std::uint32_t>(links.first.size() - 1);
    std::vector<std::uint32_t> first{0};
    std::vector<std::uint32_t> heads;
    for (std::uint32_t node = 0; node < nodes; ++node) {
        for (std::uint32_t i = links.first[node]; i < links.first[node + 1]; ++i)
            if (use_destination_only || !links.links[i].destination_only)
                heads.push_back(links.links[i].node);
        first.push_back(static_cast<std::uint32_t>(heads.size()));
    }
    const Components components = strong_components(first, heads);
    std::vector<std::uint32_t> largest;
    for (std::uint32_t node = 0; node < nodes; ++node)
        if (components.of_node[node] == 0)
            largest.push_back(node);
    return largest;
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
    const Links onward = links_of(network, true);
    auto core = largest_strong_component(onward, false);
    // Where every road is for destination traffic, the whole map is one zone.
    if (core.size() < 2)
        core = largest_strong_component(onward, true);
    const Reach there = reach(onward, core);
    const Reach back = reach(links_of(network, false), core);

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
