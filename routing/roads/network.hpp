#pragma once
/// The road graph of one vehicle: nodes, arcs in CSR order, edges with their shape, way and name.
///
/// A *map edge* is a stretch of one way between two junctions. It gives up to two arcs, one a direction. Junctions with
/// turn restrictions are split: beside the plain node there is one for each arrival that a restriction binds, with just
/// the permitted departures, so that a path in the graph never breaks a restriction and a search needs no turn table.
/// Exact: elsewhere the way on does not depend on the arrival. Restrictions over via ways copy the via stretch
/// likewise. A U-turn is permitted at every junction unless a restriction forbids it.
///
///     const RoadNetwork network = build_network(extract, {.height = 2.6_m});
///     for (const Arc& arc : network.arcs_from(node)) ...

#include "geo/coordinate.hpp"
#include "routing/roads/osm_extract.hpp"
#include "routing/roads/time_rule.hpp"
#include "routing/roads/vehicle.hpp"

#include <compare>
#include <cstdint>
#include <limits>
#include <map>
#include <span>
#include <string>
#include <vector>

namespace routing::roads {

enum class NodeIndex : std::uint32_t {};
enum class ArcIndex : std::uint32_t {};
enum class EdgeIndex : std::uint32_t {};
constexpr std::uint32_t none = std::numeric_limits<std::uint32_t>::max();
constexpr std::uint32_t value(NodeIndex i) {
    return static_cast<std::uint32_t>(i);
}
constexpr std::uint32_t value(ArcIndex i) {
    return static_cast<std::uint32_t>(i);
}
constexpr std::uint32_t value(EdgeIndex i) {
    return static_cast<std::uint32_t>(i);
}

/// Crossing time in milliseconds; `closed` marks a direction that can't be driven.
using Milliseconds = std::uint32_t;
constexpr Milliseconds closed = 1U << 30;

/// Things to say on a leg that crosses the edge.
enum EdgeNote : std::uint16_t {
    note_none = 0,
    note_toll = 1 << 0,
    note_gate = 1 << 1,
    note_ford = 1 << 2,
    note_unpaved = 1 << 3,
    note_track = 1 << 4,
    note_ferry = 1 << 5,
    note_steep = 1 << 6,
    note_doubtful_access = 1 << 7, ///< conditional or unparsable access: check the sign
    note_low_clearance = 1 << 8,   ///< a size limit is signed: the vehicle passes it, or its size is not known
    note_steps = 1 << 9,           ///< on foot
    note_not_in_darkness = 1 << 10 ///< on foot: the path is hard to see
};

/// A stretch of one way between two junctions, in drawing order.
struct Edge {
    OsmId way = 0;
    std::uint32_t name = 0;        ///< index into RoadNetwork::names; 0 is the empty name
    std::uint32_t shape_begin = 0; ///< [shape_begin, shape_end) in RoadNetwork::shape, first and last are the junctions
    std::uint32_t shape_end = 0;
    Milliseconds forward = closed; ///< crossing time in drawing order
    Milliseconds backward = closed;
    float metres = 0.0F;
    std::uint16_t notes = note_none;
    bool destination_only = false; ///< may only be the first or last stretch of a leg
    bool roundabout = false;       ///< part of a ring: junction=roundabout or circular
    bool no_stopping = false;      ///< no place to leave a van: motorway, motor road, slip road, tunnel, bridge, ring
};

/// One direction of an edge.
struct Arc {
    NodeIndex head{};
    EdgeIndex edge{};
    Milliseconds time = closed;
    bool forward = true; ///< in the edge's drawing order
};

/// A road that is shut when the rule says so; one edge may have several rules.
struct EdgeTimeRule {
    EdgeIndex edge{};
    std::uint32_t rule = 0; ///< index into RoadNetwork::time_rules
    friend auto operator<=>(const EdgeTimeRule&, const EdgeTimeRule&) = default;
};

/// Things counted while building, for the reader's report.
using BuildCounts = std::map<std::string, std::uint64_t>;

struct RoadNetwork {
    std::vector<std::uint32_t> first_arc; ///< node count + 1
    std::vector<Arc> arcs;                ///< arcs of node n: [first_arc[n], first_arc[n+1])
    std::vector<OsmId> node_osm;          ///< OSM node of each graph node (split nodes share one)
    std::vector<geo::Coordinate> node_place;
    std::vector<std::uint32_t> component; ///< strong component of each node, numbered by falling size: 0 is the largest
    std::vector<std::uint32_t> component_size;
    std::vector<Edge> edges;
    std::vector<geo::Coordinate> shape;
    std::vector<std::string> names;  ///< "Harbour Road (B 12)"; [0] empty
    std::vector<std::uint32_t> tail; ///< tail node of each arc
    /// Arcs of each edge and direction, see arcs_along. Several when the edge begins at a split junction; they end at
    /// one node, or at copies of one where a restriction over via ways looks further back. The copy for a leg that
    /// begins on the edge, which permits all that the others do, is always among them.
    std::vector<std::uint32_t> first_edge_arc; ///< 2 * edge count + 1
    std::vector<std::uint32_t> edge_arcs;
    std::vector<TimeRule> time_rules;          ///< each once
    std::vector<EdgeTimeRule> edge_time_rules; ///< by edge, then rule
    BuildCounts counts;

    std::uint32_t node_count() const { return static_cast<std::uint32_t>(node_place.size()); }
    std::span<const Arc> arcs_from(NodeIndex node) const {
        return {arcs.data() + first_arc[value(node)], arcs.data() + first_arc[value(node) + 1]};
    }
    std::span<const geo::Coordinate> shape_of(const Edge& edge) const {
        return {shape.data() + edge.shape_begin, shape.data() + edge.shape_end};
    }
    /// Indices of the arcs that drive `edge` in that direction; none when it is closed. Several when it begins at a
    /// split junction, or lies on the via way of a restriction. The first one ends at the node where a trip goes on
    /// that begins on the edge; a trip that ends on the edge may come along any of them.
    std::span<const std::uint32_t> arcs_along(EdgeIndex edge, bool forward) const {
        const std::size_t slot = 2 * std::size_t{value(edge)} + (forward ? 0 : 1);
        return {edge_arcs.data() + first_edge_arc[slot], edge_arcs.data() + first_edge_arc[slot + 1]};
    }
    const std::string& name_of(const Edge& edge) const { return names[edge.name]; }
};

/// Applies the road rules for `vehicle` to what was read. Never throws on odd data: counts it.
RoadNetwork build_network(const OsmExtract& extract, const Vehicle& vehicle);

} // namespace routing::roads
