#pragma once
/// All rules for one way taken together: where the van may go on it, and how fast.

#include "routing/roads/osm_extract.hpp"
#include "routing/roads/remark.hpp"
#include "routing/roads/time_rule.hpp"
#include "routing/roads/vehicle.hpp"

#include "geo/units.hpp"

#include <cstdint>
#include <vector>

namespace routing::roads {

struct WayRuling {
    bool forward = false; ///< open in drawing order
    bool backward = false;
    geo::KilometresPerHour forward_speed{0}; ///< not used on a ferry
    geo::KilometresPerHour backward_speed{0};
    geo::Seconds extra{0}; ///< once for the whole way: single-file stretches, fords
    bool destination_only = false;
    bool ferry = false;
    std::uint16_t notes = 0;          ///< EdgeNote bits
    std::vector<TimeRule> time_rules; ///< shut, both ways, when any says so

    bool drivable() const { return forward || backward; }
};

/// Travel speed: the least of 0.9 x the legal limit, 1.25 x the class's typical figure, and what surface, tracktype and
/// smoothness allow; without a legal limit the class figure itself. The urban figure holds where something says town:
/// a limit of 50 km/h or less, a zone code, street lamps or a sidewalk.
WayRuling rule_way(const Tags& tags, const Vehicle& vehicle, Remarks& remarks);

} // namespace routing::roads
