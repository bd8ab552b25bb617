#pragma once
/// An order of elimination for a road graph: nested dissection, so that few nodes have many above them.
///
///     const std::vector<std::uint32_t> order = dissection_order(graph, places); // order[0] is eliminated first
///
/// Dead ends and chains go first, in rounds of nodes that are not neighbours. What is left is cut in two again and
/// again by inertial flow: along each of four directions, a quarter of the nodes at one end is the source and a quarter
/// at the other the sink of a unit flow; the smallest cut of the four separates. Sources: A. George, "Nested dissection
/// of a regular finite element mesh", SIAM J. Numer. Anal. 10 (1973); A. Schild, C. Sommer, "On balanced separators in
/// road networks", SEA 2015. Cost: O(levels x cut size x m); does badly on grids without natural cuts.

#include "geo/coordinate.hpp"

#include <cstdint>
#include <utility>
#include <vector>

namespace routing::roads::hierarchy {

using NodePair = std::pair<std::uint32_t, std::uint32_t>;

/// `links` in any order and direction; repeats and self-links do no harm. Every node of `places` comes up once.
/// The same on every machine.
std::vector<std::uint32_t> dissection_order(const std::vector<NodePair>& links,
                                            const std::vector<geo::Coordinate>& places);

} // namespace routing::roads::hierarchy
