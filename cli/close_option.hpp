#pragma once
/// The crew's words on the command line for what is shut and where they are: `--close` and `--at`.
///
///     parse_closure("road:Pass Road@-35.2,-8.4 from 10:00 until 15:00", parse_time)

#include "geo/units.hpp"
#include "routing/roads/closure.hpp"

#include <functional>
#include <string>
#include <string_view>

namespace cli {

/// Reads a clock time, or date and time; throws geo::InputError.
using ParseTime = std::function<geo::Instant(const std::string&)>;

/// `road:NAME`, `road:NAME@LAT,LON`, `ways:ID,ID...`, `line:LAT,LON;LAT,LON...`,
/// `area:LAT,LON;LAT,LON;LAT,LON...`, `circle:LAT,LON,RADIUS_M`; then ` from TIME`, ` until TIME` or both, in that
/// order. Throws geo::InputError with the field `--close`.
routing::roads::Closure parse_closure(std::string_view text, const ParseTime& parse_time);

/// "LAT,LON" in degrees. Throws geo::InputError naming `option`.
geo::Coordinate parse_place(std::string_view text, const std::string& option);

} // namespace cli
