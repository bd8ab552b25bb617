#pragma once
/// The crew's words on the command line for what is shut and where they are: `--close` and `--at`.
///
///     parse_closure("road:Pass Road@-35.2,-8.4 from 10:00 until 15:00", {now, zone})

#include "geo/local_time.hpp"
#include "geo/units.hpp"
#include "routing/roads/closure.hpp"

#include <string>
#include <string_view>

namespace cli {

/// Times of closures as a crew tells them.
struct ClosingClock {
    geo::Instant now;
    const geo::TimeZone& zone;
};

/// `road:NAME`, `road:NAME@LAT,LON`, `ways:ID,ID...`, `line:LAT,LON;LAT,LON...`,
/// `area:LAT,LON;LAT,LON;LAT,LON...`, `circle:LAT,LON,RADIUS_M`; then, as far as needed and in any order,
/// ` for van`, ` for foot` or ` for van,foot`, ` from TIME`, ` until TIME`. Without `for` it holds for the van. A clock
/// time alone: `from` is that of the day of `now`, `until` the first after `from` or, without it, after `now`. A road
/// may have such words in its name: only times, van and foot are taken for the end of it. Throws geo::InputError with
/// the field `--close`.
routing::roads::Closure parse_closure(std::string_view text, const ClosingClock& clock);

/// "LAT,LON" in degrees. Throws geo::InputError naming `option`.
geo::Coordinate parse_place(std::string_view text, const std::string& option);

} // namespace cli
