#pragma once
/// What a node on a road does to those who drive over it: stop them, hold them up, or both.

#include "routing/roads/access.hpp"
#include "routing/roads/osm_extract.hpp"
#include "routing/roads/remark.hpp"
#include "routing/roads/time_rule.hpp"
#include "routing/roads/vehicle.hpp"

#include <cstdint>
#include <vector>

namespace routing::roads {

/// Held up when driving in drawing order, and against it.
struct NodeDelay {
    geo::Seconds forward{0};
    geo::Seconds backward{0};
};

struct NodeRuling {
    Access access = Access::open; ///< barrier and size limits
    bool is_barrier = false;      ///< the road is cut here, so that each side ends in a junction
    NodeDelay signals;            ///< traffic lights; those within 30 m along a way count once
    NodeDelay other;
    std::uint16_t notes = 0;
    std::vector<TimeRule> time_rules; ///< of the barrier: shut when any says so
};

/// Delays are our planning figures. Sources of the tags: OSM wiki, Key:barrier, Tag:highway=traffic_signals,
/// Tag:highway=stop, Tag:highway=give_way, Tag:railway=level_crossing, Key:ford.
NodeRuling rule_node(const Tags& tags, const Vehicle& vehicle, Remarks& remarks);

} // namespace routing::roads
