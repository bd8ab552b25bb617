#pragma once
/// Opening hours of the shoot's own locations.
///
///     for (const geo::Interval& open : open_hours(shoot, location, span)) ...
///
/// Set-up, filming and packing lie inside hours that are surely open (routing/hours); hours that are not known for
/// certain count as shut.

#include "geo/interval.hpp"
#include "routing/hours/hours.hpp"
#include "routing/shoot/shoot.hpp"

#include <string>

namespace routing::shoot {

/// With the shoot's zone and its public holidays.
hours::Site site_at(geo::Coordinate at, const Shoot& shoot);

/// What of `span` a location is surely open; all of it where it has no hours.
geo::Intervals open_hours(const Shoot& shoot, const Location& location, geo::Interval span);

/// "open Mo-Fr 08:00-18:00", and whether a holiday may shut it while the crew is there; empty without hours.
std::string site_hours_note(const Shoot& shoot, const Location& location, geo::Interval there);

} // namespace routing::shoot
