#pragma once
/// May the van go there: the access keys of a way or a node.

#include "routing/roads/osm_extract.hpp"
#include "routing/roads/remark.hpp"
#include "routing/roads/vehicle.hpp"

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace routing::roads {

enum class Direction { forward, backward };

enum class Access {
    open,
    destination_only, ///< a leg may begin or end there, never cross
    forbidden
};

/// Access while all of `when` holds (see ConditionalClause::times).
struct TimedAccess {
    Access access = Access::forbidden;
    bool by_mode_key = false;
    std::vector<std::string> when;
};

struct AccessRuling {
    std::optional<Access> access;      ///< at other hours; nothing when no key speaks: the class decides
    std::vector<TimedAccess> at_hours; ///< a later one that holds wins
    bool by_mode_key = false; ///< decided by a key for this way of travel (motor_vehicle, foot ...), not by `access`
    bool doubtful = false;    ///< a condition could not be proved or read: look at the sign
};

/// An access key in its forms, for one way of travel or for all.
struct AccessKey {
    std::string_view plain;
    std::string_view forward;
    std::string_view backward;
    std::string_view conditional;
    bool for_all = false;
};
inline constexpr AccessKey access_for_all{"access", "access:forward", "access:backward", "access:conditional", true};

/// True for a vehicle above 3.5 t, which follows `hgv` keys; lighter or unknown follows `motorcar`.
bool is_heavy(const Vehicle& vehicle);

/// The first of `keys` (narrowest first) that is there decides; within one key the form with :forward or :backward goes
/// first. A condition on the vehicle counts only when it surely holds, one on the hour is handed on, one that can't be
/// read closes. A key with nothing but conditions leaves the hours when none holds to the wider keys. Values not known
/// close.
/// Source: OSM wiki, Key:access.
AccessRuling read_access_keys(const Tags& tags, std::span<const AccessKey> keys, Direction direction,
                              const Vehicle& vehicle, Remarks& remarks);

/// For the van: motorcar (or hgv), motor_vehicle, vehicle, access; `goods=no`, at some hours or at all, is a doubt.
AccessRuling read_access(const Tags& tags, Direction direction, const Vehicle& vehicle, Remarks& remarks);

} // namespace routing::roads
