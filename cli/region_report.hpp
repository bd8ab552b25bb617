#pragma once
/// What the program says on standard error while it works.

#include "routing/shoot/region.hpp"

#include <string>
#include <vector>

namespace cli {

/// Counts of what was read from the map and what was passed over, a line each.
std::string region_report(const routing::shoot::Region& region);

/// "wrote plan.json, route.geojson in monday"
std::string written_report(const std::string& folder, const std::vector<std::string>& names);

} // namespace cli
