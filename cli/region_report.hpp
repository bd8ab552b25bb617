#pragma once
/// What the program says on standard error while it works.

#include "routing/shoot/region.hpp"

#include <string>
#include <vector>

namespace cli {

/// Size of the map and of the van's network, and what of the file was passed over; two or three lines.
std::string region_report(const routing::shoot::Region& region);

/// Every count the road rules kept of skipped, closed and doubtful things, a Markdown list.
std::string network_report(const routing::shoot::Region& region);

/// What became of the prepared file, a line; empty when none was asked for.
std::string prepared_report(const routing::shoot::Region& region);

/// "wrote plan.json, route.geojson in monday"
std::string written_report(const std::string& folder, const std::vector<std::string>& names);

} // namespace cli
