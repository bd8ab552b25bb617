#pragma once
/// From pieces of road and forbidden turns to the network's nodes, edges and arcs; the same for every way of travel.
///
///     assemble_network(extract, cut_roads(extract, rulings, rule_node, network.counts), bans, network);

#include "routing/roads/network.hpp"
#include "routing/roads/road_pieces.hpp"
#include "routing/roads/turn_bans.hpp"

#include <vector>

namespace routing::roads {

/// Fills all of `network` but its counts. Nodes are numbered along a space-filling curve, edges by where they begin.
void assemble_network(const OsmExtract& extract, const RoadPieces& roads, const std::vector<ForbiddenSequence>& bans,
                      RoadNetwork& network);

} // namespace routing::roads
