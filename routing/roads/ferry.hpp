#pragma once
/// Ferries that carry the van.

#include "routing/roads/osm_extract.hpp"
#include "routing/roads/remark.hpp"
#include "routing/roads/vehicle.hpp"

#include "geo/units.hpp"

#include <optional>
#include <string_view>

namespace routing::roads {

/// "00:45", "01:30:00", "PT1H30M", or a bare number of minutes. Nothing when it is no duration or zero.
/// Source: OSM wiki, Key:duration (ISO 8601).
std::optional<geo::Seconds> read_duration(std::string_view text);

/// How long `crossing` takes under way and how long the van waits for it: 15 minutes to board and half the interval
/// between sailings (our planning figures). Without a duration, or with one that means less than 3 or more than
/// 60 km/h: 20 km/h. Source: OSM wiki, Tag:route=ferry.
struct FerryRuling {
    geo::Seconds under_way{0};
    geo::Seconds boarding{0};
};
FerryRuling read_ferry(const Tags& tags, geo::Metres crossing, Remarks& remarks);

} // namespace routing::roads
