#pragma once
/// A place's opening hours on the days of a shoot, in three states.
///
///     hours_on_days(place, shoot)          // "each day open 09:00–17:00"
///     state_text(place, noon, shoot)       // "open until 17:00"

#include "routing/hours/hours.hpp"
#include "routing/places/place.hpp"
#include "routing/shoot/shoot.hpp"

#include <string>
#include <vector>

namespace cli {

/// Open and not known stretches inside the hours of a shoot's day, earliest call to latest wrap; closed between them.
struct HoursOfDay {
    geo::CivilDate date{};
    geo::Interval span{};                             ///< the day's hours
    std::vector<routing::hours::Stretch> stretches{}; ///< one, not known, for a place whose hours the map does not have
};

/// A day of the shoot each.
std::vector<HoursOfDay> hours_of_days(const routing::places::Place& place, const routing::shoot::Shoot& shoot);

/// "each day open 09:00–17:00"; "2027-09-10 closed; 2027-09-11 open all day"; "not on the map".
std::string hours_on_days(const routing::places::Place& place, const routing::shoot::Shoot& shoot);

/// "open", "closed", "unknown".
const char* state_word(routing::hours::State state);
routing::hours::State state_at(const routing::places::Place& place, geo::Instant when,
                               const routing::shoot::Shoot& shoot);
/// "open until 17:00", "closed until 09:00 (+1)", "closed", "not known": what holds then, and until when within a day.
std::string state_text(const routing::places::Place& place, geo::Instant when, const routing::shoot::Shoot& shoot);

} // namespace cli
