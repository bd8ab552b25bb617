#pragma once
/// Cuts ways at junctions, barriers and holes into the pieces that become edges of the network.
///
/// Only a node id that two ways share joins them; bridges and tunnels need no rule. A node that the file lacks cuts its
/// way: the two sides are never joined across the hole.

#include "routing/roads/network.hpp"
#include "routing/roads/node_rules.hpp"
#include "routing/roads/osm_extract.hpp"
#include "routing/roads/time_rule.hpp"
#include "routing/roads/way_rules.hpp"

#include <cstdint>
#include <functional>
#include <utility>
#include <vector>

namespace routing::roads {

/// A stretch of one way between two junctions, in drawing order.
struct Piece {
    std::uint32_t way = 0;   ///< index into OsmExtract::roads
    std::uint32_t start = 0; ///< junction
    std::uint32_t end = 0;
    std::uint32_t shape_begin = 0; ///< into RoadPieces::shape_nodes
    std::uint32_t shape_end = 0;
    double metres = 0.0;
    Milliseconds forward = closed;
    Milliseconds backward = closed;
    std::uint16_t notes = 0;
    bool destination_only = false;
};

struct RoadPieces {
    std::vector<Piece> pieces;              ///< by way, then along it
    std::vector<std::uint32_t> junctions;   ///< node (index into OsmExtract::node_ids) of each; a closed barrier's node
                                            ///< has a junction of its own for each piece that ends there
    std::vector<std::uint32_t> shape_nodes; ///< indices into OsmExtract::node_ids
    /// The node that stands for each node: itself, but one of two that a zero-length stretch joins.
    std::vector<std::uint32_t> same_node;
    std::vector<std::pair<std::uint32_t, TimeRule>> way_rules; ///< (Piece::way, rule), by way: hold for all its pieces
    std::vector<std::pair<std::uint32_t, TimeRule>> piece_rules; ///< (piece, rule), by piece: of gates at its ends
};

/// What a node with these tags does to those who pass; what it could not read goes to the remarks.
using NodeRule = std::function<NodeRuling(const Tags&, Remarks&)>;

/// Cuts all ways that `rulings` (beside OsmExtract::roads) leave open, and times the pieces.
RoadPieces cut_roads(const OsmExtract& extract, const std::vector<WayRuling>& rulings, const NodeRule& rule_node,
                     BuildCounts& counts);

} // namespace routing::roads
