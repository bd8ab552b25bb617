#pragma once
/// The network of ways on foot: roads where walking is allowed, paths, tracks, steps. No turn is forbidden on it.
///
///     const RoadNetwork paths = foot::build_foot_network(extract);

#include "routing/roads/network.hpp"

namespace routing::roads::foot {

/// Never throws on odd data: counts it. Times are at the pace of foot_rules.hpp, level. Areas are walked along their
/// rim, not across.
RoadNetwork build_foot_network(const OsmExtract& extract);

} // namespace routing::roads::foot
