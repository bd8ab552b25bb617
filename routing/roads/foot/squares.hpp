#pragma once
/// Lets walkers cross a square instead of going round its rim.
///
///     RoadPieces pieces = cut_roads(extract, rulings, rule_node_on_foot, counts);
///     add_square_links(extract, rulings, pieces, counts);
///
/// A square is a closed way that may_be_square; its rim is walked as drawn. Its entries are the nodes it shares with
/// other ways open to walkers. Straight links join all pairs of entries that see each other inside it. With more than
/// 12 entries only those links are added without which the way would be over 10 % longer than straight, shortest pairs
/// first: the greedy spanner of I. Althöfer, G. Das, D. Dobkin, D. Joseph, J. Soares, "On sparse spanners of weighted
/// graphs", Discrete & Computational Geometry 9, 1993 (from memory). O(pairs x rim), and O(links x entries^2) above 12.
///
/// Not linked: squares drawn as multipolygons, squares that the file cuts, squares walked one way only, and those with
/// more than 200 entries. What stands on a square is not looked at.

#include "routing/roads/network.hpp"
#include "routing/roads/osm_extract.hpp"
#include "routing/roads/road_pieces.hpp"
#include "routing/roads/way_rules.hpp"

#include <vector>

namespace routing::roads::foot {

/// Appends the links to `roads.pieces`, as pieces of the square's way at its pace.
void add_square_links(const OsmExtract& extract, const std::vector<WayRuling>& rulings, RoadPieces& roads,
                      BuildCounts& counts);

} // namespace routing::roads::foot
