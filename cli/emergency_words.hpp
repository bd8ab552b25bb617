#pragma once
/// Emergency wards in words, and what a crew should know of them.

#include "routing/shoot/nearest_ward.hpp"

#include <string>
#include <vector>

namespace cli {

/// What to do first, and what the driving times are not.
inline constexpr const char* emergency_caution = "In an emergency call the local emergency number first and do as it "
                                                 "says. Driving times are estimates, and whether a "
                                                 "ward is open and takes the case is not on the map.";

/// A Markdown section with a line for each location; "" where none was looked for.
std::string emergency_text(const std::vector<routing::shoot::NearestWard>& wards);

} // namespace cli
