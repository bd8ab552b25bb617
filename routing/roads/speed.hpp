#pragma once
/// Legal speed of a way from its signs.

#include "routing/roads/access.hpp"
#include "routing/roads/osm_extract.hpp"
#include "routing/roads/remark.hpp"
#include "routing/roads/vehicle.hpp"

#include "geo/units.hpp"

#include <optional>
#include <string_view>

namespace routing::roads {

struct LegalSpeed {
    std::optional<geo::KilometresPerHour> limit; ///< nothing when not signed or not readable
    bool urban_zone = false;                     ///< a value such as "DE:urban" says: inside a town
    bool doubtful = false;                       ///< a condition could not be proved; the base value is given
};

/// One value of maxspeed: "50", "30 mph", "10 knots", "walk", "none", "50;60" (the least), "RO:urban", "DE:zone30".
/// `fast_road`: motorway or trunk, where "none" means 120 km/h for our planning.
/// Nothing for values that are no speed or outside 3 to 150 km/h.
std::optional<geo::KilometresPerHour> read_speed_value(std::string_view value, bool fast_road, bool heavy,
                                                       Remarks& remarks);

/// Keys from narrow to wide: maxspeed:motorcar:forward, maxspeed:motorcar, maxspeed:forward, maxspeed (hgv instead of
/// motorcar above 3.5 t); the first readable one counts. Then the keys that name a zone: maxspeed:type,
/// source:maxspeed, zone:maxspeed, zone:traffic. A condition changes it only when it surely holds. Sources: OSM wiki,
/// Key:maxspeed, Key:zone:traffic, Conditional restrictions.
LegalSpeed read_legal_speed(const Tags& tags, Direction direction, const Vehicle& vehicle, Remarks& remarks);

} // namespace routing::roads
