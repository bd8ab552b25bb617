#pragma once
/// How fast the state of the road lets the van go, and whether it should go there at all.

#include "routing/roads/osm_extract.hpp"
#include "routing/roads/remark.hpp"
#include "routing/roads/vehicle.hpp"

#include "geo/units.hpp"

#include <cstdint>
#include <optional>

namespace routing::roads {

struct SurfaceRuling {
    bool passable = true;
    std::optional<geo::KilometresPerHour> cap; ///< nothing: no cap
    std::uint16_t notes = 0;                   ///< note_unpaved
};

/// The lowest cap of surface, tracktype, smoothness; 4wd_only closes. Speeds are our planning figures.
/// Sources of the values: OSM wiki, Key:surface, Key:tracktype, Key:smoothness, Key:4wd_only.
SurfaceRuling read_surface(const Tags& tags, const Vehicle& vehicle, Remarks& remarks);

} // namespace routing::roads
