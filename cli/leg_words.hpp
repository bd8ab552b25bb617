#pragma once
/// A move between two stops in words.

#include "geo/local_time.hpp"
#include "routing/shoot/plan.hpp"

#include <string>

namespace cli {

/// "Ring Road (A1) 12.0 km, Pass Road 14.1 km, short stretches 800 m"; empty when nothing is driven. Escaped for
/// Markdown.
std::string roads_text(const routing::shoot::Leg& leg);

/// "north on Ring Road (A1) 12.0 km; left, Pass Road 14.1 km (gate); sharp right 800 m": every turn in order. Roads
/// straight on are told only from 100 m. Empty when there are none. Escaped for Markdown.
std::string directions_text(const routing::shoot::Leg& leg);

/// Roads on the way that are shut at other hours, and waits for them: "Pass Road is shut from 14:30 until 17:00". What
/// is over for an hour when the crew leaves, or begins a day after it arrives, is not told; roads shut at the
/// same hours are told together, three by name.
std::string closing_text(const routing::shoot::Leg& leg, geo::Instant leave, geo::CivilDate day,
                         const geo::TimeZone& zone);

/// What the driver should mind on the way: "gate (may be locked), ford (look before driving in)".
std::string mind_text(const routing::shoot::Leg& leg);

} // namespace cli
