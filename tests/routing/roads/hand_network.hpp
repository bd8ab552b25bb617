#pragma once
/// Small road networks drawn by hand, without map data or tag rules.
///
///     HandNetwork map;
///     const auto a = map.junction(-35.00, -20.00), b = map.junction(-35.00, -20.01);
///     const auto road = map.road(a, b, {.seconds = 60, .name = "Ridge Road"});
///     map.forbid(road, b, other);
///     const routing::roads::RoadNetwork network = map.network();

#include "routing/roads/edge_geometry.hpp"
#include "routing/roads/snap.hpp"
#include "turn_rules.hpp"

#include <algorithm>
#include <set>
#include <string>
#include <tuple>
#include <vector>

namespace support {

namespace roads = routing::roads;

enum class Ways { both, forward, backward, none };

struct HandRoad {
    double seconds = 60.0;
    Ways open = Ways::both;
    bool destination_only = false;
    bool roundabout = false;
    std::string name = {};
    roads::OsmId way = 0; ///< 0: its own number
    std::uint16_t notes = 0;
    std::vector<geo::Coordinate> between = {}; ///< shape points between the junctions
};

class HandNetwork {
public:
    roads::OsmId junction(double latitude, double longitude) {
        junctions_.push_back({{latitude}, {longitude}});
        return static_cast<roads::OsmId>(junctions_.size() - 1);
    }

    roads::EdgeIndex road(roads::OsmId from, roads::OsmId to, const HandRoad& drawn = {}) {
        const auto index = static_cast<std::uint32_t>(network_.edges.size());
        roads::Edge edge;
        edge.way = drawn.way ? drawn.way : index + 1;
        edge.name = name_index(drawn.name);
        edge.shape_begin = static_cast<std::uint32_t>(network_.shape.size());
        network_.shape.push_back(junctions_[static_cast<std::size_t>(from)]);
        network_.shape.insert(network_.shape.end(), drawn.between.begin(), drawn.between.end());
        network_.shape.push_back(junctions_[static_cast<std::size_t>(to)]);
        edge.shape_end = static_cast<std::uint32_t>(network_.shape.size());
        edge.metres = static_cast<float>(roads::line_length(network_.shape_of(edge)).value);
        const auto time = static_cast<roads::Milliseconds>(drawn.seconds * 1000.0);
        if (drawn.open == Ways::both || drawn.open == Ways::forward)
            edge.forward = time;
        if (drawn.open == Ways::both || drawn.open == Ways::backward)
            edge.backward = time;
        edge.notes = drawn.notes;
        edge.destination_only = drawn.destination_only;
        edge.roundabout = drawn.roundabout;
        network_.edges.push_back(edge);
        ends_.emplace_back(from, to);
        return roads::EdgeIndex{index};
    }

    /// No turn from one edge into another at a junction; the two may be one edge (no turning round).
    void forbid(roads::EdgeIndex from, roads::OsmId at, roads::EdgeIndex to) { forbidden_.emplace(from, at, to); }

    TurnRules rules() const {
        TurnRules rules;
        for (const auto& [from, at, to] : forbidden_)
            for (const bool arriving : {true, false})
                for (const bool departing : {true, false})
                    if (end_of(ends_, direction_of(from, arriving)) == at &&
                        start_of(ends_, direction_of(to, departing)) == at)
                        rules.forbidden.push_back({direction_of(from, arriving), direction_of(to, departing)});
        return rules;
    }

    /// Junctions with a forbidden turn are split: a copy for each arriving arc, with the departures permitted from it.
    /// The whole junction stays, so that an edge nobody may turn into still has its arc; no arc leads there.
    roads::RoadNetwork network() const {
        roads::RoadNetwork result = network_;
        struct Draft {
            roads::OsmId tail, head;
            std::uint32_t edge;
            bool forward;
        };
        std::vector<Draft> drafts;
        for (std::uint32_t i = 0; i < result.edges.size(); ++i) {
            if (result.edges[i].forward < roads::closed)
                drafts.push_back({ends_[i].first, ends_[i].second, i, true});
            if (result.edges[i].backward < roads::closed)
                drafts.push_back({ends_[i].second, ends_[i].first, i, false});
        }
        std::set<roads::OsmId> split;
        for (const auto& [from, at, to] : forbidden_)
            split.insert(at);
        std::vector<roads::OsmId> node_junction;
        std::vector<int> node_arrival; // draft that arrives at a copy, -1 at a whole junction
        std::vector<std::uint32_t> junction_node(junctions_.size(), roads::none), copy_node(drafts.size(), roads::none);
        for (roads::OsmId junction = 0; junction < static_cast<roads::OsmId>(junctions_.size()); ++junction) {
            junction_node[static_cast<std::size_t>(junction)] = static_cast<std::uint32_t>(node_junction.size());
            node_junction.push_back(junction);
            node_arrival.push_back(-1);
        }
        for (std::size_t i = 0; i < drafts.size(); ++i) {
            if (!split.contains(drafts[i].head))
                continue;
            copy_node[i] = static_cast<std::uint32_t>(node_junction.size());
            node_junction.push_back(drafts[i].head);
            node_arrival.push_back(static_cast<int>(i));
        }
        for (std::uint32_t node = 0; node < node_junction.size(); ++node) {
            result.first_arc.push_back(static_cast<std::uint32_t>(result.arcs.size()));
            result.node_osm.push_back(node_junction[node]);
            result.node_place.push_back(junctions_[static_cast<std::size_t>(node_junction[node])]);
            for (std::size_t i = 0; i < drafts.size(); ++i) {
                const Draft& draft = drafts[i];
                if (draft.tail != node_junction[node])
                    continue;
                if (node_arrival[node] >= 0) {
                    const std::uint32_t from = drafts[static_cast<std::size_t>(node_arrival[node])].edge;
                    if (forbidden_.contains({roads::EdgeIndex{from}, draft.tail, roads::EdgeIndex{draft.edge}}))
                        continue;
                }
                const std::uint32_t head =
                    split.contains(draft.head) ? copy_node[i] : junction_node[static_cast<std::size_t>(draft.head)];
                const roads::Edge& edge = result.edges[draft.edge];
                result.arcs.push_back({roads::NodeIndex{head}, roads::EdgeIndex{draft.edge},
                                       draft.forward ? edge.forward : edge.backward, draft.forward});
                result.tail.push_back(node);
            }
        }
        result.first_arc.push_back(static_cast<std::uint32_t>(result.arcs.size()));
        for (Direction direction = 0; direction < 2 * result.edges.size(); ++direction) {
            result.first_edge_arc.push_back(static_cast<std::uint32_t>(result.edge_arcs.size()));
            for (std::uint32_t arc = 0; arc < result.arcs.size(); ++arc)
                if (direction_of(result.arcs[arc].edge, result.arcs[arc].forward) == direction)
                    result.edge_arcs.push_back(arc);
        }
        result.first_edge_arc.push_back(static_cast<std::uint32_t>(result.edge_arcs.size()));
        return result;
    }

private:
    std::uint32_t name_index(const std::string& name) {
        const auto known = std::find(network_.names.begin(), network_.names.end(), name);
        if (known != network_.names.end())
            return static_cast<std::uint32_t>(known - network_.names.begin());
        network_.names.push_back(name);
        return static_cast<std::uint32_t>(network_.names.size() - 1);
    }

    std::vector<geo::Coordinate> junctions_;
    EdgeEnds ends_;
    std::set<std::tuple<roads::EdgeIndex, roads::OsmId, roads::EdgeIndex>> forbidden_;
    roads::RoadNetwork network_ = [] {
        roads::RoadNetwork empty;
        empty.names.emplace_back();
        return empty;
    }();
};

/// A point on an edge, by fraction in drawing order.
inline roads::RoadPoint on(const roads::RoadNetwork& network, roads::EdgeIndex edge, double fraction) {
    roads::RoadPoint point;
    point.edge = edge;
    point.fraction = fraction;
    point.at = roads::point_on_edge(network, edge, fraction);
    return point;
}

} // namespace support
