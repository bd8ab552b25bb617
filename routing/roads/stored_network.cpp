#include "routing/roads/stored_network.hpp"

#include "geo/byte_stream.hpp"

#include <algorithm>
#include <cmath>

namespace routing::roads {
namespace {

/// As Edge and Arc, without padding and without bool, which has forbidden values.
struct StoredEdge {
    OsmId way;
    std::uint32_t name, shape_begin, shape_end, forward, backward;
    float metres;
    std::uint16_t notes, destination_only;
    std::uint32_t marks; ///< 1 a ring, 2 no place to stop
};
static_assert(sizeof(StoredEdge) == 40);
struct StoredArc {
    std::uint32_t head, edge, time, forward;
};
static_assert(sizeof(EdgeTimeRule) == 8);
static_assert(sizeof(StoredArc) == 16 && sizeof(geo::Coordinate) == 16);

bool is_index_table(const std::vector<std::uint32_t>& first, std::size_t rows, std::size_t items) {
    return first.size() == rows + 1 && first.front() == 0 && first.back() == items &&
           std::is_sorted(first.begin(), first.end());
}

bool all_below(const std::vector<std::uint32_t>& values, std::size_t limit) {
    return std::all_of(values.begin(), values.end(), [limit](std::uint32_t v) { return v < limit; });
}

bool is_sound(const RoadNetwork& network, const Edge& edge) {
    return edge.name < network.names.size() && edge.shape_end <= network.shape.size() &&
           edge.shape_begin < edge.shape_end && edge.shape_end - edge.shape_begin >= 2 && edge.forward <= closed &&
           edge.backward <= closed && std::isfinite(edge.metres) && edge.metres >= 0.0F;
}

bool arcs_are_sound(const RoadNetwork& network) {
    for (std::size_t a = 0; a < network.arcs.size(); ++a) {
        const Arc& arc = network.arcs[a];
        const std::uint32_t tail = network.tail[a];
        if (value(arc.head) >= network.node_count() || value(arc.edge) >= network.edges.size() ||
            tail >= network.node_count() || a < network.first_arc[tail] || a >= network.first_arc[tail + 1])
            return false;
        const Edge& edge = network.edges[value(arc.edge)];
        if (arc.time != (arc.forward ? edge.forward : edge.backward))
            return false;
    }
    for (std::uint32_t e = 0; e < network.edges.size(); ++e)
        for (const bool forward : {true, false})
            for (const std::uint32_t a : network.arcs_along(EdgeIndex{e}, forward))
                if (network.arcs[a].edge != EdgeIndex{e} || network.arcs[a].forward != forward)
                    return false;
    return true;
}

bool time_rules_are_sound(const RoadNetwork& network) {
    const auto& all = network.edge_time_rules;
    return std::is_sorted(all.begin(), all.end()) && std::all_of(all.begin(), all.end(), [&](const EdgeTimeRule& row) {
               return value(row.edge) < network.edges.size() && row.rule < network.time_rules.size();
           });
}

void store_rules(const std::vector<TimeRule>& rules, geo::ByteWriter& writer) {
    writer.put(std::uint64_t{rules.size()});
    for (const TimeRule& rule : rules) {
        writer.put(std::uint32_t{rule.open ? 1U : 0U});
        writer.put(static_cast<std::uint32_t>(rule.clauses.size()));
        for (const TimedClause& clause : rule.clauses) {
            writer.put(std::uint32_t{clause.open ? 1U : 0U});
            writer.put(static_cast<std::uint32_t>(clause.when.size()));
            for (const std::string& text : clause.when)
                writer.put_text(text);
        }
    }
}

std::vector<TimeRule> restore_rules(geo::ByteReader& reader) {
    std::vector<TimeRule> rules;
    const auto count = reader.get<std::uint64_t>();
    for (std::uint64_t r = 0; r < count && !reader.failed(); ++r) {
        TimeRule& rule = rules.emplace_back();
        rule.open = reader.get<std::uint32_t>() != 0;
        const auto clauses = reader.get<std::uint32_t>();
        for (std::uint32_t c = 0; c < clauses && !reader.failed(); ++c) {
            TimedClause& clause = rule.clauses.emplace_back();
            clause.open = reader.get<std::uint32_t>() != 0;
            const auto texts = reader.get<std::uint32_t>();
            for (std::uint32_t t = 0; t < texts && !reader.failed(); ++t)
                clause.when.push_back(reader.text());
        }
    }
    return rules;
}

bool is_sound(const RoadNetwork& network) {
    const std::size_t nodes = network.node_place.size(), arcs = network.arcs.size();
    return nodes < none && arcs < none && network.node_osm.size() == nodes && network.component.size() == nodes &&
           network.tail.size() == arcs && is_index_table(network.first_arc, nodes, arcs) &&
           is_index_table(network.first_edge_arc, 2 * network.edges.size(), network.edge_arcs.size()) &&
           all_below(network.component, network.component_size.size()) && all_below(network.edge_arcs, arcs) &&
           !network.names.empty() && network.names.front().empty() &&
           std::all_of(network.node_place.begin(), network.node_place.end(), geo::is_valid) &&
           std::all_of(network.shape.begin(), network.shape.end(), geo::is_valid) &&
           std::all_of(network.edges.begin(), network.edges.end(),
                       [&](const Edge& edge) { return is_sound(network, edge); }) &&
           arcs_are_sound(network) && time_rules_are_sound(network);
}

} // namespace

std::vector<std::byte> store_network(const RoadNetwork& network) {
    std::vector<StoredEdge> edges;
    edges.reserve(network.edges.size());
    for (const Edge& e : network.edges)
        edges.push_back({e.way, e.name, e.shape_begin, e.shape_end, e.forward, e.backward, e.metres, e.notes,
                         static_cast<std::uint16_t>(e.destination_only ? 1 : 0),
                         (e.roundabout ? 1U : 0U) | (e.no_stopping ? 2U : 0U)});
    std::vector<StoredArc> arcs;
    arcs.reserve(network.arcs.size());
    for (const Arc& a : network.arcs)
        arcs.push_back({value(a.head), value(a.edge), a.time, a.forward ? 1U : 0U});
    geo::ByteWriter writer;
    writer.put_all(network.first_arc);
    writer.put_all(arcs);
    writer.put_all(network.node_osm);
    writer.put_all(network.node_place);
    writer.put_all(network.component);
    writer.put_all(network.component_size);
    writer.put_all(edges);
    writer.put_all(network.shape);
    writer.put(std::uint64_t{network.names.size()});
    for (const std::string& name : network.names)
        writer.put_text(name);
    writer.put_all(network.tail);
    writer.put_all(network.first_edge_arc);
    writer.put_all(network.edge_arcs);
    store_rules(network.time_rules, writer);
    writer.put_all(network.edge_time_rules);
    writer.put(std::uint64_t{network.counts.size()});
    for (const auto& [what, count] : network.counts) {
        writer.put_text(what);
        writer.put(count);
    }
    return writer.take();
}

std::optional<RoadNetwork> restore_network(std::span<const std::byte> bytes) {
    geo::ByteReader reader(bytes);
    RoadNetwork network;
    bool flags_good = true;
    network.first_arc = reader.all<std::uint32_t>();
    const auto arcs = reader.all<StoredArc>();
    network.arcs.reserve(arcs.size());
    for (const StoredArc& a : arcs) {
        network.arcs.push_back({NodeIndex{a.head}, EdgeIndex{a.edge}, a.time, a.forward == 1});
        flags_good = flags_good && a.forward <= 1;
    }
    network.node_osm = reader.all<OsmId>();
    network.node_place = reader.all<geo::Coordinate>();
    network.component = reader.all<std::uint32_t>();
    network.component_size = reader.all<std::uint32_t>();
    const auto edges = reader.all<StoredEdge>();
    network.edges.reserve(edges.size());
    for (const StoredEdge& e : edges) {
        network.edges.push_back({e.way, e.name, e.shape_begin, e.shape_end, e.forward, e.backward, e.metres, e.notes,
                                 e.destination_only == 1, (e.marks & 1U) != 0, (e.marks & 2U) != 0});
        flags_good = flags_good && e.destination_only <= 1 && e.marks <= 3;
    }
    network.shape = reader.all<geo::Coordinate>();
    const auto names = reader.get<std::uint64_t>();
    for (std::uint64_t n = 0; n < names && !reader.failed(); ++n)
        network.names.push_back(reader.text());
    network.tail = reader.all<std::uint32_t>();
    network.first_edge_arc = reader.all<std::uint32_t>();
    network.edge_arcs = reader.all<std::uint32_t>();
    network.time_rules = restore_rules(reader);
    network.edge_time_rules = reader.all<EdgeTimeRule>();
    const auto counts = reader.get<std::uint64_t>();
    for (std::uint64_t n = 0; n < counts && !reader.failed(); ++n) {
        std::string what = reader.text();
        network.counts[std::move(what)] = reader.get<std::uint64_t>();
    }
    if (!flags_good || !reader.ended_well() || !is_sound(network))
        return std::nullopt;
    return network;
}

std::vector<std::byte> vehicle_bytes(const Vehicle& vehicle) {
    geo::ByteWriter writer;
    const auto put = [&writer](const auto& size) {
        writer.put(std::uint32_t{size ? 1U : 0U});
        writer.put(size ? size->value : 0.0);
    };
    put(vehicle.height);
    put(vehicle.width);
    put(vehicle.length);
    put(vehicle.weight);
    writer.put(std::uint32_t{vehicle.high_clearance ? 1U : 0U});
    return writer.take();
}

} // namespace routing::roads
