#pragma once
/// The network a crew can walk on, from the same extract as the van's.
///
///     const RoadNetwork paths = build_foot_network(extract);
///     const SnapIndex index(paths);
///     WalkFinder finder(paths, index);

#include "routing/roads/network.hpp"
#include "routing/roads/osm_extract.hpp"

namespace routing::roads::foot {

/// Applies the rules for walkers (foot_rules.hpp) to what was read; squares are crossed straight (squares.hpp). Times
/// are those of the flat. No turn restrictions, no destination-only stretches, no ferries, so an island is a component
/// of its own. Never throws on odd data: counts it.
RoadNetwork build_foot_network(const OsmExtract& extract);

} // namespace routing::roads::foot
