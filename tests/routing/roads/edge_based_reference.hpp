#pragma once
/// A second opinion on path times: Boost.Graph's Dijkstra over an edge-based expansion.
///
/// A vertex is an edge driven in one direction, in one zone state, with the progress made in forbidden stretches; an
/// arc is a turn the referee allows. Takes from the network its edges and which OSM nodes they join, nothing of how
/// junctions are split.

#include "routing/roads/shortest_path.hpp"
#include "turn_rules.hpp"

#include <boost/graph/compressed_sparse_row_graph.hpp>
#include <boost/graph/dijkstra_shortest_paths.hpp>

#include <array>
#include <optional>
#include <tuple>

namespace support {

namespace roads = routing::roads;

class EdgeBasedReference {
public:
    EdgeBasedReference(const roads::RoadNetwork& network, const TurnRules& rules,
                       const roads::ClosedEdges& closed_edges = {})
        : network_(network), ends_(edge_ends(network)), referee_(rules, ends_) {
        const auto directions = static_cast<Direction>(2 * network.edges.size());
        std::map<roads::OsmId, std::vector<Direction>> leaving_node;
        usable_.assign(directions, false);
        for (Direction direction = 0; direction < directions; ++direction)
            if (time(direction) < roads::closed && (closed_edges.empty() || !closed_edges[direction / 2])) {
                usable_[direction] = true;
                leaving_node[start_of(ends_, direction)].push_back(direction);
            }
        // Every drive begins on some edge; the rest is found by driving on from there.
        for (Direction direction = 0; direction < directions; ++direction)
            if (usable_[direction])
                vertex({direction, zone(direction) ? 0U : 1U, referee_.begin(direction)});
        std::vector<std::pair<std::uint32_t, std::uint32_t>> turns;
        for (std::uint32_t from = 0; from < states_.size(); ++from) {
            const State state = states_[from];
            for (const Direction next : leaving_node[end_of(ends_, state.direction)]) {
                State after{next, next_zone(state.zone, zone(next)), state.progress};
                if (after.zone < zones && referee_.turn(after.progress, state.direction, next))
                    turns.emplace_back(from, vertex(after));
            }
        }
        std::sort(turns.begin(), turns.end());
        std::vector<Weight> weights;
        into_.resize(directions);
        for (const auto& [from, to] : turns) {
            weights.push_back({time(states_[to].direction)});
            into_[states_[to].direction].push_back(from);
        }
        graph_ = Graph(boost::edges_are_sorted, turns.begin(), turns.end(), weights.begin(), states_.size());
    }

    /// Least time; nothing when there is no way.
    std::optional<roads::Milliseconds> quickest(const roads::RoadPoint& from, const roads::RoadPoint& to) {
        std::optional<roads::Milliseconds> best;
        const auto take = [&](roads::Milliseconds candidate) { best = best ? std::min(*best, candidate) : candidate; };
        if (from.edge == to.edge && from.fraction == to.fraction)
            take(0);
        for (const bool forward : {true, false}) {
            const Direction start = direction_of(from.edge, forward);
            if (!usable_[start])
                continue;
            const auto done = time_to(start, from);
            if (from.edge == to.edge && time_to(start, to) >= done && (forward == (to.fraction >= from.fraction)))
                take(time_to(start, to) - done);
            const auto& times = times_after(vertex({start, zone(start) ? 0U : 1U, referee_.begin(start)}));
            for (const bool last_forward : {true, false}) {
                const Direction last = direction_of(to.edge, last_forward);
                for (const std::uint32_t before : into_[last])
                    if (times[before] < roads::closed)
                        take(time(start) - done + times[before] + time_to(last, to));
            }
        }
        return best;
    }

    std::size_t vertex_count() const { return states_.size(); }

private:
    static constexpr std::uint32_t zones = 3; // 0 nothing but zone so far, 1 on open road, 2 in the last zone
    struct State {
        Direction direction;
        std::uint32_t zone;
        Progress progress;
        friend auto operator<=>(const State&, const State&) = default;
    };
    struct Weight {
        roads::Milliseconds time;
    };
    using Graph = boost::compressed_sparse_row_graph<boost::directedS, boost::no_property, Weight>;

    roads::Milliseconds time(Direction direction) const {
        const roads::Edge& edge = network_.edges[direction / 2];
        return direction % 2 ? edge.backward : edge.forward;
    }
    roads::Milliseconds time_to(Direction direction, const roads::RoadPoint& point) const {
        return roads::time_to_fraction(time(direction), direction % 2 ? 1.0 - point.fraction : point.fraction);
    }
    bool zone(Direction direction) const { return network_.edges[direction / 2].destination_only; }

    /// `zones` where the destination-only rule forbids the step.
    static std::uint32_t next_zone(std::uint32_t before, bool into_zone) {
        constexpr std::uint32_t steps[zones][2] = {{1, 0}, {1, 2}, {zones, 2}};
        return steps[before][into_zone ? 1 : 0];
    }

    std::uint32_t vertex(const State& state) {
        const auto [known, added] = vertices_.emplace(state, static_cast<std::uint32_t>(states_.size()));
        if (added)
            states_.push_back(state);
        return known->second;
    }

    /// Times from the end of one vertex's edge to the end of every other's; the latest few are kept.
    const std::vector<roads::Milliseconds>& times_after(std::uint32_t start) {
        auto& kept = kept_[start % kept_.size()];
        if (kept.first != start || kept.second.empty()) {
            kept.first = start;
            kept.second.resize(states_.size());
            const auto index = get(boost::vertex_index, graph_);
            boost::dijkstra_shortest_paths(graph_, start,
                                           boost::distance_map(make_iterator_property_map(kept.second.begin(), index))
                                               .weight_map(get(&Weight::time, graph_))
                                               .distance_inf(roads::closed));
        }
        return kept.second;
    }

    const roads::RoadNetwork& network_;
    EdgeEnds ends_;
    TurnReferee referee_;
    std::vector<bool> usable_;
    std::map<State, std::uint32_t> vertices_;
    std::vector<State> states_;
    std::vector<std::vector<std::uint32_t>> into_; ///< [direction]: vertices a turn leads from into it
    Graph graph_;
    std::array<std::pair<std::uint32_t, std::vector<roads::Milliseconds>>, 16> kept_;
};

} // namespace support
