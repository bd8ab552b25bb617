#pragma once
/// May the van go there: the access keys of a way or a node.

#include "routing/roads/osm_extract.hpp"
#include "routing/roads/remark.hpp"
#include "routing/roads/vehicle.hpp"

#include <optional>
#include <string_view>

namespace routing::roads {

enum class Direction { forward, backward };

enum class Access {
    open,
    destination_only, ///< a leg may begin or end there, never cross
    forbidden
};

struct AccessRuling {
    std::optional<Access> access; ///< nothing when no key speaks: the class decides
    bool by_motor_key = false;    ///< decided by vehicle, motor_vehicle or a narrower key, not by `access` alone
    bool doubtful = false;        ///< a condition could not be proved or read: look at the sign
};

/// True for a vehicle above 3.5 t, which follows `hgv` keys; lighter or unknown follows `motorcar`.
bool is_heavy(const Vehicle& vehicle);

/// The most specific key that is there decides: motorcar (or hgv), motor_vehicle, vehicle, access; within one key the
/// form with :forward or :backward goes first. A condition counts only when it surely holds; one that can't be read
/// closes. Values not known close. Source: OSM wiki, Key:access.
AccessRuling read_access(const Tags& tags, Direction direction, const Vehicle& vehicle, Remarks& remarks);

} // namespace routing::roads
