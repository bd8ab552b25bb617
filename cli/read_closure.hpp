#pragma once
/// Closures as a shoot file or a plan names them.

#include "cli/json_fields.hpp"
#include "geo/local_time.hpp"
#include "routing/roads/closure.hpp"

#include <optional>

namespace cli {

/// `{"road": "...", "near": {...}}`, `{"ways": [...]}`, `{"line": [{...}, ...]}`,
/// `{"area": [{...}, ...]}` or `{"point": {...}, "radius_m": n}`;
/// `label`, and `from` and `until` (local to `zone` without an offset), may stand beside it. Nothing after a fault.
std::optional<routing::roads::Closure> read_closure(const Field& field, const geo::TimeZone& zone);

} // namespace cli
