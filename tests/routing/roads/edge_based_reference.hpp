#pragma once
/// A second opinion on path times: Boost.Graph's Dijkstra over an edge-based expansion.
///
/// A vertex is "edge driven in one direction in one zone state", an arc of the expansion a turn that isn't forbidden.
/// Takes from the network its edges and which OSM nodes they join, nothing of how junctions are split.

#include "hand_network.hpp"
#include "routing/roads/shortest_path.hpp"

#include <boost/graph/compressed_sparse_row_graph.hpp>
#include <boost/graph/dijkstra_shortest_paths.hpp>

#include <array>
#include <cstdint>
#include <map>
#include <optional>
#include <utility>
#include <vector>

namespace support {

/// OSM nodes an edge runs between, in drawing order.
using EdgeEnds = std::vector<std::pair<roads::OsmId, roads::OsmId>>;

/// Read from the arcs of either direction; (0, 0) for an edge closed both ways.
inline EdgeEnds edge_ends(const roads::RoadNetwork& network) {
    EdgeEnds ends(network.edges.size());
    for (std::uint32_t node = 0; node < network.node_count(); ++node)
        for (const roads::Arc& arc : network.arcs_from(roads::NodeIndex{node})) {
            const auto tail = network.node_osm[node];
            const auto head = network.node_osm[value(arc.head)];
            ends[value(arc.edge)] = arc.forward ? std::pair(tail, head) : std::pair(head, tail);
        }
    return ends;
}

class EdgeBasedReference {
public:
    EdgeBasedReference(const roads::RoadNetwork& network, const ForbiddenTurns& forbidden,
                       const roads::ClosedEdges& closed_edges = {})
        : network_(network) {
        const auto ends = edge_ends(network);
        std::map<roads::OsmId, std::vector<std::uint32_t>> leaving_junction; // states 0 and 1 of each direction
        const auto directions = static_cast<std::uint32_t>(2 * network.edges.size());
        for (std::uint32_t direction = 0; direction < directions; ++direction)
            if (time(direction) < roads::closed && (closed_edges.empty() || !closed_edges[direction / 2]))
                leaving_junction[direction % 2 ? ends[direction / 2].second : ends[direction / 2].first].push_back(
                    direction);
        usable_.assign(directions, false);
        for (const auto& [junction, list] : leaving_junction)
            for (const std::uint32_t direction : list)
                usable_[direction] = true;

        std::vector<std::pair<std::uint32_t, std::uint32_t>> turns;
        before_.resize(states * directions);
        for (std::uint32_t from = 0; from < directions; ++from) {
            if (!usable_[from])
                continue;
            const auto junction = from % 2 ? ends[from / 2].first : ends[from / 2].second;
            for (const std::uint32_t to : leaving_junction[junction]) {
                if (forbidden.contains({roads::EdgeIndex{from / 2}, junction, roads::EdgeIndex{to / 2}}))
                    continue;
                for (const auto& [state, next] : steps(zone(from), zone(to))) {
                    turns.emplace_back(states * from + state, states * to + next);
                    before_[states * to + next].push_back(states * from + state);
                }
            }
        }
        std::sort(turns.begin(), turns.end());
        std::vector<Weight> weights;
        for (const auto& turn : turns)
            weights.push_back({time(turn.second / states)});
        graph_ = Graph(boost::edges_are_sorted, turns.begin(), turns.end(), weights.begin(), states * directions);
    }

    /// Least time; nothing when there is no way.
    std::optional<roads::Milliseconds> quickest(const roads::RoadPoint& from, const roads::RoadPoint& to) {
        std::optional<roads::Milliseconds> best;
        const auto take = [&](roads::Milliseconds candidate) { best = best ? std::min(*best, candidate) : candidate; };
        if (from.edge == to.edge && from.fraction == to.fraction)
            take(0);
        for (const std::uint32_t side : {0U, 1U}) {
            const std::uint32_t start = 2 * value(from.edge) + side;
            if (!usable_[start])
                continue;
            const auto done = roads::time_to_fraction(time(start), side ? 1.0 - from.fraction : from.fraction);
            if (from.edge == to.edge && (side ? to.fraction <= from.fraction : to.fraction >= from.fraction))
                take(roads::time_to_fraction(time(start), side ? 1.0 - to.fraction : to.fraction) - done);
            const auto& times = from_state(states * start + (zone(start) ? 0 : 1));
            for (const std::uint32_t last : {0U, 1U}) {
                const std::uint32_t end = 2 * value(to.edge) + last;
                if (!usable_[end])
                    continue;
                const auto rest = roads::time_to_fraction(time(end), last ? 1.0 - to.fraction : to.fraction);
                for (std::uint32_t state = 0; state < states; ++state)
                    for (const std::uint32_t before : before_[states * end + state])
                        if (times[before] < roads::closed)
                            take(time(start) - done + times[before] + rest);
            }
        }
        return best;
    }

private:
    static constexpr std::uint32_t states = 3; // 0 nothing but zone so far, 1 on open road, 2 in the last zone
    struct Weight {
        roads::Milliseconds time;
    };
    using Graph = boost::compressed_sparse_row_graph<boost::directedS, boost::no_property, Weight>;

    roads::Milliseconds time(std::uint32_t direction) const {
        const roads::Edge& edge = network_.edges[direction / 2];
        return direction % 2 ? edge.backward : edge.forward;
    }
    bool zone(std::uint32_t direction) const { return network_.edges[direction / 2].destination_only; }

    /// Pairs of (state on the edge before, state on the edge after) that the destination-only rule allows.
    static std::vector<std::pair<std::uint32_t, std::uint32_t>> steps(bool from_zone, bool to_zone) {
        if (from_zone)
            return to_zone ? std::vector<std::pair<std::uint32_t, std::uint32_t>>{{0, 0}, {2, 2}}
                           : std::vector<std::pair<std::uint32_t, std::uint32_t>>{{0, 1}};
        return {{1, to_zone ? 2 : 1}};
    }

    /// Times from the end of one state's edge to the end of every other's; the latest few are kept.
    const std::vector<roads::Milliseconds>& from_state(std::uint32_t state) {
        auto& kept = kept_[state % kept_.size()];
        if (kept.first != state || kept.second.empty()) {
            kept.first = state;
            kept.second.resize(num_vertices(graph_));
            boost::dijkstra_shortest_paths(
                graph_, state,
                boost::distance_map(
                    boost::make_iterator_property_map(kept.second.begin(), get(boost::vertex_index, graph_)))
                    .weight_map(get(&Weight::time, graph_))
                    .distance_inf(roads::closed));
        }
        return kept.second;
    }

    const roads::RoadNetwork& network_;
    std::vector<bool> usable_;
    std::vector<std::vector<std::uint32_t>> before_;
    Graph graph_;
    std::array<std::pair<std::uint32_t, std::vector<roads::Milliseconds>>, 16> kept_;
};

} // namespace support
