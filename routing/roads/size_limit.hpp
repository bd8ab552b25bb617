#pragma once
/// Signed limits of height, width, length and weight, on ways and nodes.

#include "routing/roads/access.hpp"
#include "routing/roads/osm_extract.hpp"
#include "routing/roads/remark.hpp"
#include "routing/roads/vehicle.hpp"

#include "geo/units.hpp"

#include <cstdint>
#include <optional>
#include <string_view>

namespace routing::roads {

/// "3.8", "3,8", "3.8 m", "380 cm", "12'6\"", "12 ft 6 in". Nothing when it is no length.
std::optional<geo::Metres> read_length(std::string_view text);
/// "3.5", "3.5 t", "3500 kg", "7.5 st" (short tons), "7700 lbs". Nothing when it is no weight.
std::optional<geo::Tonnes> read_weight(std::string_view text);

struct SizeRuling {
    bool passable = true;
    std::uint16_t notes = 0; ///< note_low_clearance: passes a sign, or the vehicle's own size is not known
};

/// The vehicle passes a limit equal to its size. Read with :physical and the direction's suffix too.
/// Sources: OSM wiki, Key:maxheight, Key:maxwidth, Key:maxlength, Key:maxweight, Map features/Units.
SizeRuling read_size_limits(const Tags& tags, Direction direction, const Vehicle& vehicle, Remarks& remarks);

} // namespace routing::roads
