#pragma once
/// The light a scene asks for, as shoot files write it: a name, a list of names, or an object.

#include "cli/json_fields.hpp"
#include "geo/light_window.hpp"

#include <optional>
#include <vector>

namespace cli {

/// Any of these lights; nothing after a fault. A light this version does not know yet is refused with what to write
/// instead.
std::optional<std::vector<geo::LightRequest>> read_light(const Field& field);

} // namespace cli
