#include "routing/roads/turn_states.hpp"

#include <algorithm>
#include <map>
#include <queue>

namespace routing::roads {
namespace {

using State = std::uint32_t;
constexpr State plain = 0;

/// Aho-Corasick automaton over directed pieces.
class TurnAutomaton {
public:
    explicit TurnAutomaton(const std::vector<ForbiddenSequence>& bans) : states_(1) {
        for (const ForbiddenSequence& ban : bans) {
            State at = plain;
            for (std::size_t i = 0; i + 1 < ban.size(); ++i)
                at = child_of(at, ban[i]);
            states_[at].forbidden.push_back(ban.back());
        }
        link_fallbacks();
    }

    State count() const { return static_cast<State>(states_.size()); }
    DirectedPiece last_piece(State state) const { return states_[state].last; }

    bool forbids(State state, DirectedPiece next) const {
        for (State at = state;; at = states_[at].fallback) {
            const auto& forbidden = states_[at].forbidden;
            if (std::find(forbidden.begin(), forbidden.end(), next) != forbidden.end())
                return true;
            if (at == plain)
                return false;
        }
    }

    State after(State state, DirectedPiece next) const {
        for (State at = state;; at = states_[at].fallback) {
            const auto child = children_.find({at, next});
            if (child != children_.end())
                return child->second;
            if (at == plain)
                return plain;
        }
    }

private:
    struct Node {
        DirectedPiece last = 0;
        State fallback = plain;
        std::vector<DirectedPiece> forbidden;
    };

    State child_of(State parent, DirectedPiece piece) {
        const auto [child, is_new] = children_.try_emplace({parent, piece}, count());
        if (is_new)
            states_.push_back({piece, plain, {}});
        return child->second;
    }

    /// Breadth first, so that a state's fallback, being shorter, is linked before it.
    void link_fallbacks() {
        std::vector<std::vector<std::pair<DirectedPiece, State>>> children(states_.size());
        for (const auto& [edge, child] : children_)
            children[edge.first].emplace_back(edge.second, child);
        std::queue<State> open;
        open.push(plain);
        while (!open.empty()) {
            const State parent = open.front();
            open.pop();
            for (const auto& [piece, child] : children[parent]) {
                if (parent != plain)
                    states_[child].fallback = after(states_[parent].fallback, piece);
                open.push(child);
            }
        }
    }

    std::vector<Node> states_;
    std::map<std::pair<State, DirectedPiece>, State> children_;
};

std::vector<bool> find_needless(const TurnGraph& graph, std::size_t junctions) {
    std::vector<bool> arrived_at(graph.junction.size(), false);
    std::vector<bool> leaves_elsewhere(graph.head_at_start.size(), false);
    for (const TurnGraph::Arc& arc : graph.arcs) {
        arrived_at[arc.head] = true;
        if (arc.tail >= junctions && arc.head == graph.head_at_start[arc.along])
            leaves_elsewhere[arc.along] = true;
    }
    std::vector<bool> needless(graph.junction.size(), false);
    for (std::size_t node = 0; node < junctions; ++node)
        needless[node] = !arrived_at[node];
    for (const TurnGraph::Arc& arc : graph.arcs)
        if (arc.tail < junctions && !leaves_elsewhere[arc.along])
            needless[arc.tail] = false;
    return needless;
}

} // namespace

TurnGraph split_junctions(const RoadPieces& roads, const std::vector<ForbiddenSequence>& bans) {
    const TurnAutomaton automaton{bans};
    const auto junctions = static_cast<std::uint32_t>(roads.junctions.size());
    const auto directed_pieces = static_cast<DirectedPiece>(2 * roads.pieces.size());
    const auto node_after = [&](State state, DirectedPiece driven) {
        const State now = automaton.after(state, driven);
        return now == plain ? head_of(roads, driven) : junctions + now - 1;
    };

    TurnGraph graph;
    graph.head_at_start.resize(directed_pieces);
    graph.junction.resize(junctions);
    for (std::uint32_t j = 0; j < junctions; ++j)
        graph.junction[j] = j;
    std::map<std::uint32_t, std::vector<State>> split; // states at each split junction
    for (State state = 1; state < automaton.count(); ++state) {
        const std::uint32_t junction = head_of(roads, automaton.last_piece(state));
        graph.junction.push_back(junction);
        split[junction].push_back(state);
    }
    for (DirectedPiece d = 0; d < directed_pieces; ++d) {
        if (!is_open(roads, d))
            continue;
        const std::uint32_t tail = tail_of(roads, d);
        graph.head_at_start[d] = node_after(plain, d);
        graph.arcs.push_back({tail, graph.head_at_start[d], d});
        const auto states = split.find(tail);
        if (states == split.end())
            continue;
        for (const State state : states->second)
            if (!automaton.forbids(state, d))
                graph.arcs.push_back({junctions + state - 1, node_after(state, d), d});
    }
    graph.needless = find_needless(graph, junctions);
    return graph;
}

} // namespace routing::roads
