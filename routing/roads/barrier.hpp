#pragma once
/// What a barrier on a road node means for the van.

#include "routing/roads/access.hpp"
#include "routing/roads/osm_extract.hpp"
#include "routing/roads/remark.hpp"
#include "routing/roads/time_rule.hpp"
#include "routing/roads/vehicle.hpp"

#include <cstdint>
#include <vector>

namespace routing::roads {

struct BarrierRuling {
    Access access = Access::open; ///< destination_only: the van may go in to a stop beyond, not through
    geo::Seconds delay{0};
    std::uint16_t notes = 0;          ///< EdgeNote bits for the roads that end here
    std::vector<TimeRule> time_rules; ///< shut when any says so
};

/// The node's own access keys win over what its kind of barrier implies; locked=yes closes a gate either way, opening
/// hours that can't be read likewise. Open with no delay for a node without `barrier`. Sources: OSM wiki, Key:barrier
/// and its values' pages; delays are our planning figures.
BarrierRuling read_barrier(const Tags& tags, const Vehicle& vehicle, Remarks& remarks);

} // namespace routing::roads
