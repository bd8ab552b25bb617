#pragma once
/// Which highway classes the van may use, and how fast it typically goes there.

#include "geo/units.hpp"

#include <string_view>

namespace routing::roads {

enum class ClassAccess {
    open,
    open_if_tagged, ///< only where a tag for motor vehicles opens it
    track,          ///< as open_if_tagged, or firm (tracktype grade1, grade2)
    never
};

struct RoadClass {
    std::string_view highway; ///< value of the highway key
    ClassAccess access = ClassAccess::never;
    geo::KilometresPerHour rural; ///< typical travel speed, our planning figure
    geo::KilometresPerHour urban;
};

/// The table's row, or one with ClassAccess::never for values not in it (allow-list).
const RoadClass& road_class(std::string_view highway);
/// False for values not in the table.
bool is_known_road_class(std::string_view highway);

} // namespace routing::roads
