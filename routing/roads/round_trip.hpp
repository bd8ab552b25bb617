#pragma once
/// Which roads can be driven to and left again.
///
///     const std::vector<bool> usable = round_trip_edges(network);
///
/// The core is the largest strong component of the roads open to all. A road counts when some point on it can be
/// reached from the core and the core can be reached from there, where stretches for destination traffic may stand at
/// the far end only. So between any two such points there is a way.

#include "routing/roads/network.hpp"

#include <vector>

namespace routing::roads {

/// One flag an edge. Linear in nodes and arcs.
std::vector<bool> round_trip_edges(const RoadNetwork& network);

} // namespace routing::roads
