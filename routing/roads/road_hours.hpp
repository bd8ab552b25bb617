#pragma once
/// Hours of roads: what of an access by the hour holds always, and the rule that says when the road is shut.
///
///     const SettledAccess settled = settle(Access::open, at_hours, Traffic::through, remarks);
///     if (settled.rule) ...   // shut at some hours
///
/// The network knows one access to a road, and which of its hours it is shut.

#include "routing/roads/access.hpp"
#include "routing/roads/osm_extract.hpp"
#include "routing/roads/remark.hpp"
#include "routing/roads/time_rule.hpp"
#include "routing/roads/way_rules.hpp"

#include <optional>
#include <vector>

namespace routing::roads {

/// Whether people drive along a road to get elsewhere, or to what stands on it.
enum class Traffic { through, local };

struct SettledAccess {
    Access access = Access::open; ///< whenever the road is not shut
    std::optional<TimeRule> rule; ///< nothing when it is never shut
};

/// A road that is closed but for some hours is open, and shut at all others. One open to all that is for visitors only
/// at some hours: local roads are for visitors only all day, since nobody has to cross them and somebody may be at home
/// there; through roads are shut at these hours. Never more is allowed than the map says.
SettledAccess settle(Access at_other_hours, const std::vector<TimedAccess>& at_hours, Traffic traffic,
                     Remarks& remarks);

struct RoadHours {
    bool readable = true; ///< else the road is to be closed
    bool doubtful = false;
    std::vector<TimeRule> rules; ///< the road is shut when any of them says so
};

/// `opening_hours` and `seasonal`. A season that is not said (seasonal=yes, dry_season) is a doubt. Opening hours that
/// can't be read close the road. Sources: OSM wiki, Key:opening_hours, Key:seasonal.
RoadHours read_road_hours(const Tags& tags, Remarks& remarks);

/// Adds what a way's hours and seasons shut to its ruling. Its directions share their hours: a road shut one way at
/// some hour is kept off altogether then.
void add_hours(const Tags& tags, const SettledAccess& forward, const SettledAccess& backward, WayRuling& ruling,
               Remarks& remarks);

} // namespace routing::roads
