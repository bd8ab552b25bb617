#pragma once
/// The crew's vehicle, as far as roads care.

#include "geo/units.hpp"

#include <optional>

namespace routing::roads {

/// Limits are compared with what signs allow; an unset size passes every sign and is reported as unchecked.
struct Vehicle {
    std::optional<geo::Metres> height;
    std::optional<geo::Metres> width;
    std::optional<geo::Metres> length;
    std::optional<geo::Tonnes> weight; ///< actual mass, also taken as the permitted mass
    bool high_clearance = false;
};

} // namespace routing::roads
