#pragma once
/// What a way or a node means for people on foot.
///
/// Sources: OSM wiki, "OSM tags for routing/Access restrictions", Key:access, Key:foot, Key:barrier, Key:sac_scale.
/// Paces are planning figures of ours, with kit: 4 km/h, steps 1.5 km/h, mountain_hiking three quarters.

#include "routing/roads/node_rules.hpp"
#include "routing/roads/way_rules.hpp"

namespace routing::roads::foot {

/// Ferries are no walk. One-way signs don't bind walkers, `oneway:foot` does.
WayRuling rule_way(const Tags& tags, Remarks& remarks);
/// Barriers a person climbs, opens or steps round are open; `foot` and `access` on the node go first.
NodeRuling rule_node(const Tags& tags, Remarks& remarks);

} // namespace routing::roads::foot
