#include "routing/roads/network_assembly.hpp"

#include "routing/roads/directed_piece.hpp"
#include "routing/roads/space_curve.hpp"
#include "routing/roads/strong_components.hpp"
#include "routing/roads/turn_states.hpp"

#include <algorithm>
#include <numeric>
#include <tuple>

namespace routing::roads {
namespace {

std::string name_of(const Tags& tags) {
    const std::string name{tags["name"]};
    const std::string ref{tags["ref"]};
    if (name.empty() || ref.empty())
        return name.empty() ? ref : name;
    return name + " (" + ref + ")";
}

/// Ours: where stopping is dangerous or forbidden by the common rules of the road.
bool is_no_place_to_stop(const Tags& tags) {
    const std::string_view highway = tags["highway"];
    const auto is_there = [&](std::string_view key) { return tags.has(key) && tags[key] != "no"; };
    return highway == "motorway" || highway.ends_with("_link") || tags["motorroad"] == "yes" || is_there("tunnel") ||
           is_there("bridge");
}

/// New numbers for nodes: by place on the curve; copies of one junction stay together, in the order of their states.
std::vector<std::uint32_t> number_nodes(const OsmExtract& extract, const RoadPieces& roads, const TurnGraph& graph,
                                        std::vector<std::uint32_t>& old_of_new) {
    std::vector<std::uint64_t> curve(roads.junctions.size());
    for (std::size_t j = 0; j < curve.size(); ++j)
        curve[j] = place_on_curve(extract.node_places[roads.junctions[j]]);
    for (std::uint32_t node = 0; node < graph.junction.size(); ++node)
        if (!graph.needless[node])
            old_of_new.push_back(node);
    const auto key = [&](std::uint32_t node) {
        const std::uint32_t junction = graph.junction[node];
        return std::tuple{curve[junction], roads.junctions[junction], junction, node};
    };
    std::sort(old_of_new.begin(), old_of_new.end(), [&](auto a, auto b) { return key(a) < key(b); });
    std::vector<std::uint32_t> new_of_old(graph.junction.size(), none);
    for (std::uint32_t n = 0; n < old_of_new.size(); ++n)
        new_of_old[old_of_new[n]] = n;
    return new_of_old;
}

/// New numbers for edges: by their start's place, then way and position.
std::vector<std::uint32_t> order_pieces(const OsmExtract& extract, const RoadPieces& roads) {
    std::vector<std::uint64_t> curve(roads.pieces.size());
    for (std::size_t p = 0; p < curve.size(); ++p)
        curve[p] = place_on_curve(extract.node_places[roads.junctions[roads.pieces[p].start]]);
    std::vector<std::uint32_t> order(roads.pieces.size());
    std::iota(order.begin(), order.end(), 0U);
    std::stable_sort(order.begin(), order.end(), [&](auto a, auto b) { return curve[a] < curve[b]; });
    return order;
}

void add_edges(const OsmExtract& extract, const RoadPieces& roads, const std::vector<std::uint32_t>& order,
               RoadNetwork& network) {
    std::map<std::string, std::uint32_t> name_index{{"", 0}};
    network.names = {""};
    network.edges.reserve(order.size());
    network.shape.reserve(roads.shape_nodes.size());
    for (const std::uint32_t p : order) {
        const Piece& piece = roads.pieces[p];
        const RoadWay& way = extract.roads[piece.way];
        Edge edge;
        edge.way = way.id;
        const auto [name, is_new] =
            name_index.try_emplace(name_of(way.tags), static_cast<std::uint32_t>(network.names.size()));
        if (is_new)
            network.names.push_back(name->first);
        edge.name = name->second;
        edge.shape_begin = static_cast<std::uint32_t>(network.shape.size());
        for (std::uint32_t i = piece.shape_begin; i < piece.shape_end; ++i)
            network.shape.push_back(extract.node_places[roads.shape_nodes[i]]);
        edge.shape_end = static_cast<std::uint32_t>(network.shape.size());
        edge.forward = piece.forward;
        edge.backward = piece.backward;
        edge.metres = static_cast<float>(piece.metres);
        edge.notes = piece.notes;
        edge.destination_only = piece.destination_only;
        edge.roundabout = way.tags["junction"] == "roundabout" || way.tags["junction"] == "circular";
        edge.no_stopping = edge.roundabout || is_no_place_to_stop(way.tags);
        network.edges.push_back(edge);
    }
}

void add_arcs(const TurnGraph& graph, const std::vector<std::uint32_t>& new_of_old,
              const std::vector<std::uint32_t>& order, RoadNetwork& network) {
    std::vector<std::uint32_t> edge_of_piece(order.size());
    for (std::uint32_t e = 0; e < order.size(); ++e)
        edge_of_piece[order[e]] = e;
    struct NewArc {
        std::uint32_t tail, edge, backward, head;
        auto operator<=>(const NewArc&) const = default;
    };
    std::vector<NewArc> arcs;
    arcs.reserve(graph.arcs.size());
    for (const TurnGraph::Arc& arc : graph.arcs)
        if (new_of_old[arc.tail] != none)
            arcs.push_back({new_of_old[arc.tail], edge_of_piece[piece_of(arc.along)], is_forward(arc.along) ? 0U : 1U,
                            new_of_old[arc.head]});
    std::sort(arcs.begin(), arcs.end());

    network.first_arc.assign(network.node_place.size() + 1, 0);
    network.first_edge_arc.assign(2 * network.edges.size() + 1, 0);
    for (const NewArc& arc : arcs) {
        ++network.first_arc[arc.tail + 1];
        ++network.first_edge_arc[2 * arc.edge + arc.backward + 1];
        const Edge& edge = network.edges[arc.edge];
        const bool forward = arc.backward == 0;
        network.arcs.push_back(
            {NodeIndex{arc.head}, EdgeIndex{arc.edge}, forward ? edge.forward : edge.backward, forward});
        network.tail.push_back(arc.tail);
    }
    std::partial_sum(network.first_arc.begin(), network.first_arc.end(), network.first_arc.begin());
    std::partial_sum(network.first_edge_arc.begin(), network.first_edge_arc.end(), network.first_edge_arc.begin());
    network.edge_arcs.resize(arcs.size());
    std::vector<std::uint32_t> next(network.first_edge_arc.begin(), network.first_edge_arc.end() - 1);
    for (std::uint32_t a = 0; a < arcs.size(); ++a)
        network.edge_arcs[next[2 * arcs[a].edge + arcs[a].backward]++] = a;
    // Those that a trip beginning on the edge may take go first, see RoadNetwork::arcs_along.
    for (std::uint32_t slot = 0; slot + 1 < network.first_edge_arc.size(); ++slot) {
        const std::uint32_t start_head = new_of_old[graph.head_at_start[directed(order[slot / 2], slot % 2 == 0)]];
        std::stable_partition(network.edge_arcs.begin() + network.first_edge_arc[slot],
                              network.edge_arcs.begin() + network.first_edge_arc[slot + 1],
                              [&](std::uint32_t a) { return arcs[a].head == start_head; });
    }
}

void add_time_rules(const RoadPieces& roads, const std::vector<std::uint32_t>& order, RoadNetwork& network) {
    std::map<TimeRule, std::uint32_t> known;
    const auto add = [&](std::uint32_t edge, const std::vector<std::pair<std::uint32_t, TimeRule>>& rules,
                         std::uint32_t of) {
        const auto begins_before = [](const auto& row, std::uint32_t wanted) { return row.first < wanted; };
        for (auto row = std::lower_bound(rules.begin(), rules.end(), of, begins_before);
             row != rules.end() && row->first == of; ++row) {
            const auto [rule, is_new] =
                known.try_emplace(row->second, static_cast<std::uint32_t>(network.time_rules.size()));
            if (is_new)
                network.time_rules.push_back(row->second);
            network.edge_time_rules.push_back({EdgeIndex{edge}, rule->second});
        }
    };
    for (std::uint32_t edge = 0; edge < order.size(); ++edge) {
        add(edge, roads.way_rules, roads.pieces[order[edge]].way);
        add(edge, roads.piece_rules, order[edge]);
    }
    auto& all = network.edge_time_rules;
    std::sort(all.begin(), all.end());
    all.erase(std::unique(all.begin(), all.end()), all.end());
}

void add_components(RoadNetwork& network) {
    std::vector<std::uint32_t> heads;
    heads.reserve(network.arcs.size());
    for (const Arc& arc : network.arcs)
        heads.push_back(value(arc.head));
    Components components = strong_components(network.first_arc, heads);
    network.component = std::move(components.of_node);
    network.component_size = std::move(components.size);
}

} // namespace

void assemble_network(const OsmExtract& extract, const RoadPieces& roads, const std::vector<ForbiddenSequence>& bans,
                      RoadNetwork& network) {
    const TurnGraph graph = split_junctions(roads, bans);

    std::vector<std::uint32_t> old_of_new;
    const std::vector<std::uint32_t> new_of_old = number_nodes(extract, roads, graph, old_of_new);
    for (const std::uint32_t old : old_of_new) {
        const std::uint32_t node = roads.junctions[graph.junction[old]];
        network.node_osm.push_back(extract.node_ids[node]);
        network.node_place.push_back(extract.node_places[node]);
    }
    const std::vector<std::uint32_t> order = order_pieces(extract, roads);
    add_edges(extract, roads, order, network);
    add_time_rules(roads, order, network);
    add_arcs(graph, new_of_old, order, network);
    add_components(network);
}

} // namespace routing::roads
