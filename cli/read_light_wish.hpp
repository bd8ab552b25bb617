#pragma once
/// A light written as an object: `{"name": "low-sun", "sun": "behind", "facing_deg": 240, "min_quality": 0.5}`.

#include "cli/json_fields.hpp"
#include "geo/light_request.hpp"

#include <optional>

namespace cli {

/// A light's name; nothing after a fault. Names that need what this version does not read are refused with what to
/// write instead.
std::optional<geo::LightName> read_light_name(const Field& field);

/// `facing` is the camera's direction where the object gives none of its own. Nothing after a fault.
std::optional<geo::LightRequest> read_light_object(const Field& field, std::optional<geo::Degrees> facing);

} // namespace cli
