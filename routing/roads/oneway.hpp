#pragma once
/// Which directions of a way are open to the van.

#include "routing/roads/osm_extract.hpp"
#include "routing/roads/remark.hpp"
#include "routing/roads/vehicle.hpp"

#include <optional>
#include <string_view>

namespace routing::roads {

struct OnewayRuling {
    bool forward = true; ///< in drawing order
    bool backward = true;
    bool takes_turns = false; ///< oneway=alternating: single file, one waits
    bool doubtful = false;
};

/// What a value of `oneway` or one of its forms means; nothing when it is not known.
std::optional<OnewayRuling> oneway_meaning(std::string_view value);

/// `oneway` (or its form for motor vehicles) and what motorway and roundabout imply; an explicit value wins over the
/// implied one. Sources: OSM wiki, Key:oneway, Tag:junction=roundabout, Tag:junction=circular.
OnewayRuling read_oneway(const Tags& tags, const Vehicle& vehicle, Remarks& remarks);

} // namespace routing::roads
