#include "routing/roads/hierarchy/dissection.hpp"

#include "routing/roads/hierarchy/flow_cut.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace routing::roads::hierarchy {

namespace {

constexpr std::uint32_t nobody = static_cast<std::uint32_t>(-1);

using Neighbours = std::vector<std::vector<std::uint32_t>>;

Neighbours neighbours_of(const std::vector<NodePair>& links, std::size_t nodes) {
    Neighbours neighbours(nodes);
    for (const auto& [a, b] : links) {
        if (a == b)
            continue;
        neighbours[a].push_back(b);
        neighbours[b].push_back(a);
    }
    for (auto& list : neighbours) {
        std::sort(list.begin(), list.end());
        list.erase(std::unique(list.begin(), list.end()), list.end());
    }
    return neighbours;
}

void unlink(std::vector<std::uint32_t>& list, std::uint32_t node) {
    list.erase(std::lower_bound(list.begin(), list.end(), node));
}

void link(std::vector<std::uint32_t>& list, std::uint32_t node) {
    const auto at = std::lower_bound(list.begin(), list.end(), node);
    if (at == list.end() || *at != node)
        list.insert(at, node);
}

/// Eliminates nodes of degree two and less. In each round only nodes whose neighbours stay, so that a chain of n nodes
/// makes a tree log n deep, not n.
void contract_chains(Neighbours& neighbours, std::vector<std::uint32_t>& order, std::vector<bool>& gone) {
    std::vector<std::uint32_t> open;
    for (std::uint32_t node = 0; node < neighbours.size(); ++node)
        if (neighbours[node].size() <= 2)
            open.push_back(node);
    std::vector<std::uint32_t> kept_in_round(neighbours.size(), 0);
    for (std::uint32_t round = 1; !open.empty(); ++round) {
        std::vector<std::uint32_t> next;
        for (const std::uint32_t node : open) {
            if (gone[node] || neighbours[node].size() > 2)
                continue;
            if (kept_in_round[node] == round) {
                next.push_back(node);
                continue;
            }
            gone[node] = true;
            order.push_back(node);
            const std::vector<std::uint32_t> around = std::move(neighbours[node]);
            neighbours[node].clear();
            for (const std::uint32_t other : around) {
                unlink(neighbours[other], node);
                kept_in_round[other] = round;
                next.push_back(other);
            }
            if (around.size() == 2) {
                link(neighbours[around[0]], around[1]);
                link(neighbours[around[1]], around[0]);
            }
        }
        std::sort(next.begin(), next.end());
        next.erase(std::unique(next.begin(), next.end()), next.end());
        open = std::move(next);
    }
}

/// Cells at most this small are ordered as they stand.
constexpr std::size_t smallest_cell = 4;

class Dissection {
public:
    Dissection(const Neighbours& neighbours, const std::vector<geo::Coordinate>& places)
        : neighbours_(neighbours), places_(places), local_(neighbours.size(), nobody) {}

    /// Elimination order of a cell: its parts first, then what separates them. Depth first with an explicit stack:
    /// separators are written from the back.
    void order_cell(std::vector<std::uint32_t> all, std::vector<std::uint32_t>& order) {
        std::vector<std::uint32_t> reversed;
        std::vector<std::vector<std::uint32_t>> stack{std::move(all)};
        while (!stack.empty()) {
            std::vector<std::uint32_t> cell = std::move(stack.back());
            stack.pop_back();
            if (cell.size() <= smallest_cell) {
                reversed.insert(reversed.end(), cell.rbegin(), cell.rend());
                continue;
            }
            const std::vector<std::uint32_t> separator = separate(cell);
            reversed.insert(reversed.end(), separator.begin(), separator.end());
            push_components(cell, stack);
        }
        order.insert(order.end(), reversed.rbegin(), reversed.rend());
    }

private:
    /// Nodes that cut the cell; they are removed from it. None when it is in pieces already.
    std::vector<std::uint32_t> separate(std::vector<std::uint32_t>& cell) {
        const CellGraph graph = cell_graph(cell);
        if (!is_connected(graph))
            return {};
        std::vector<std::uint32_t> best;
        std::vector<std::uint32_t> sorted(cell.size());
        std::vector<double> along(cell.size());
        for (int direction = 0; direction < 4; ++direction) {
            const double angle = direction * std::numbers::pi / 4.0;
            for (std::uint32_t n = 0; n < cell.size(); ++n) {
                const geo::Coordinate& place = places_[cell[n]];
                const double east = place.longitude.value * std::cos(place.latitude.value * std::numbers::pi / 180.0);
                along[n] = std::cos(angle) * east + std::sin(angle) * place.latitude.value;
                sorted[n] = n;
            }
            std::sort(sorted.begin(), sorted.end(), [&](auto a, auto b) {
                return std::pair{along[a], a} < std::pair{along[b], b};
            });
            if (auto cut =
                    flow_separator(graph, sorted, best.empty() ? nobody : static_cast<std::uint32_t>(best.size()));
                !cut.empty())
                best = std::move(cut);
        }
        std::vector<bool> in_cut(cell.size(), false);
        for (std::uint32_t& node : best) {
            in_cut[node] = true;
            node = cell[node];
        }
        std::vector<std::uint32_t> rest;
        for (std::uint32_t n = 0; n < cell.size(); ++n)
            if (!in_cut[n])
                rest.push_back(cell[n]);
        cell = std::move(rest);
        return best;
    }

    CellGraph cell_graph(const std::vector<std::uint32_t>& cell) {
        for (std::uint32_t n = 0; n < cell.size(); ++n)
            local_[cell[n]] = n;
        CellGraph graph;
        graph.first.push_back(0);
        for (const std::uint32_t node : cell) {
            for (const std::uint32_t other : neighbours_[node])
                if (local_[other] != nobody)
                    graph.heads.push_back(local_[other]);
            graph.first.push_back(static_cast<std::uint32_t>(graph.heads.size()));
        }
        for (const std::uint32_t node : cell)
            local_[node] = nobody;
        graph.link_back();
        return graph;
    }

    static bool is_connected(const CellGraph& graph) {
        std::vector<bool> met(graph.size(), false);
        std::vector<std::uint32_t> queue{0};
        met[0] = true;
        for (std::size_t at = 0; at < queue.size(); ++at)
            for (std::uint32_t arc = graph.first[queue[at]]; arc < graph.first[queue[at] + 1]; ++arc)
                if (!met[graph.heads[arc]]) {
                    met[graph.heads[arc]] = true;
                    queue.push_back(graph.heads[arc]);
                }
        return queue.size() == graph.size();
    }

    void push_components(const std::vector<std::uint32_t>& cell, std::vector<std::vector<std::uint32_t>>& stack) {
        for (const std::uint32_t node : cell)
            local_[node] = 0; // still to be met
        for (const std::uint32_t start : cell) {
            if (local_[start] == nobody)
                continue;
            local_[start] = nobody;
            std::vector<std::uint32_t> part{start};
            for (std::size_t at = 0; at < part.size(); ++at)
                for (const std::uint32_t other : neighbours_[part[at]])
                    if (local_[other] != nobody) {
                        local_[other] = nobody;
                        part.push_back(other);
                    }
            std::sort(part.begin(), part.end());
            stack.push_back(std::move(part));
        }
    }

    const Neighbours& neighbours_;
    const std::vector<geo::Coordinate>& places_;
    std::vector<std::uint32_t> local_;
};

} // namespace

std::vector<std::uint32_t> dissection_order(const std::vector<NodePair>& links,
                                            const std::vector<geo::Coordinate>& places) {
    Neighbours neighbours = neighbours_of(links, places.size());
    std::vector<std::uint32_t> order;
    order.reserve(places.size());
    std::vector<bool> gone(places.size(), false);
    contract_chains(neighbours, order, gone);
    std::vector<std::uint32_t> core;
    for (std::uint32_t node = 0; node < places.size(); ++node)
        if (!gone[node])
            core.push_back(node);
    Dissection(neighbours, places).order_cell(std::move(core), order);
    return order;
}

} // namespace routing::roads::hierarchy
