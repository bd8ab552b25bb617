#pragma once
/// What a turn-restriction relation says to our vehicle.

#include "routing/roads/osm_extract.hpp"
#include "routing/roads/remark.hpp"
#include "routing/roads/vehicle.hpp"

#include <optional>
#include <vector>

namespace routing::roads {

enum class TurnRule {
    forbidden, ///< no_*: not from `from` over `via` to `to`
    only       ///< only_*: from `from` nowhere but over `via` to `to`
};

/// A restriction with its members sorted out by role.
struct TurnRestriction {
    TurnRule rule = TurnRule::forbidden;
    std::vector<OsmId> from;       ///< ways; more than one only for no_entry
    std::optional<OsmId> via_node; ///< either this ...
    std::vector<OsmId> via_ways;   ///< ... or these, in any order
    std::vector<OsmId> to;         ///< ways; more than one only for no_exit
};

/// Nothing when it does not bind our vehicle (except=*, another mode's key) or is not well formed; `remarks` says
/// which. One that holds at certain times only is taken as holding always. Source: OSM wiki, Relation:restriction.
std::optional<TurnRestriction> read_restriction(const Restriction& relation, const Vehicle& vehicle, Remarks& remarks);

} // namespace routing::roads
