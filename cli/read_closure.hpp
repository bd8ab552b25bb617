#pragma once
/// Closures as people name them: in a shoot file or a plan, and behind `--close`.
///
///     parse_closure("road:Pass Road@-35.2,-8.4")

#include "cli/json_fields.hpp"
#include "routing/roads/closure.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace cli {

/// `{"road": "...", "near": {...}}`, `{"ways": [...]}`, `{"line": [{...}, ...]}`,
/// `{"area": [{...}, ...]}` or `{"point": {...}, "radius_m": n}`;
/// `label` may stand beside it. Nothing after a fault.
std::optional<routing::roads::Closure> read_closure(const Field& field);

/// `road:NAME`, `road:NAME@LAT,LON`, `ways:ID,ID...`, `line:LAT,LON;LAT,LON...`,
/// `area:LAT,LON;LAT,LON;LAT,LON...`, `circle:LAT,LON,RADIUS_M`.
/// Throws geo::InputError with the field `--close`.
routing::roads::Closure parse_closure(std::string_view text);

/// "LAT,LON" in degrees. Throws geo::InputError naming `option`.
geo::Coordinate parse_place(std::string_view text, const std::string& option);

} // namespace cli
