#pragma once
/// Times as a crew reads them. Minutes only: nothing about light is known to the second.

#include "geo/interval.hpp"
#include "geo/local_time.hpp"

#include <string>

namespace cli {

/// Which way a time is rounded to the minute, so that a printed time is safe to keep.
enum class RoundTo { earlier, nearest, later };

/// "04:58"; on another date than `day` with the days between: "00:40 (+1)".
std::string time_text(geo::Instant when, geo::CivilDate day, const geo::TimeZone& zone,
                      RoundTo round = RoundTo::nearest);

/// "19:41–20:33", rounded inwards.
std::string window_text(geo::Interval window, geo::CivilDate day, const geo::TimeZone& zone);

/// "Friday 2027-05-14"
std::string day_text(geo::CivilDate day);

} // namespace cli
