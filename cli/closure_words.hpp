#pragma once
/// Closures in words, the same for a file and for the command line.

#include "geo/local_time.hpp"
#include "routing/roads/closure.hpp"

#include <string>

namespace cli {

/// Metres: beyond it a typing error is likelier than a closure.
inline constexpr double largest_closed_radius = 100'000.0;

/// How a closure is called that nobody gave a name: `road "Pass Road" near -35.2, -8.4`, `ways 12, 13`.
std::string closure_label(const routing::roads::RoadNamed& road);
std::string closure_label(const routing::roads::Ways& ways);
std::string closure_label(const routing::roads::Line& line);
std::string closure_label(const routing::roads::Area& area);
std::string closure_label(const routing::roads::Circle& circle);

/// Label and times: `road "Pass Road" (2027-05-14 10:00 to 15:00)`.
std::string closure_text(const routing::roads::Closure& closure, const geo::TimeZone& zone);

} // namespace cli
