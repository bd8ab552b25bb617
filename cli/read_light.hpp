#pragma once
/// The light a scene asks for, as shoot files write it: a name, a list of names, or an object.

#include "cli/json_fields.hpp"
#include "geo/light_request.hpp"

#include <optional>
#include <vector>

namespace cli {

/// What to write for a light.
inline constexpr const char* light_mend =
    R"(write a name like "golden-evening", {"sun_altitude": [-4, 6]} or {"clock": ["10:00", "16:00"]})";

/// Any of these lights; nothing after a fault. A light this version does not know yet is refused with what to write
/// instead. `facing`: the way the camera looks at the location, for lights that depend on it and do not say.
std::optional<std::vector<geo::LightRequest>> read_light(const Field& field, std::optional<geo::Degrees> facing);

} // namespace cli
