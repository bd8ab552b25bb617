#pragma once
/// Conditional restrictions: "no @ (Mo-Fr 07:00-09:00); 60 @ (weight>3.5)".
///
/// Conditions on the vehicle are proved here. Those on the hour, the date and the season are handed on, to be judged
/// when it is known when the crew drives (rule_times.hpp). Weather and purposes can't be proved at all.
/// Source: OSM wiki, Conditional restrictions.

#include "routing/roads/vehicle.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace routing::roads {

enum class Truth {
    no,
    yes,
    at_times,  ///< while all of `times` hold, else not
    unknown,   ///< the weather, a purpose, a size not given: can't be proved
    unreadable ///< not a condition known to the wiki page
};

struct ConditionalClause {
    std::string_view value;
    Truth holds = Truth::unreadable;
    std::vector<std::string> times{}; ///< opening hours as hours::read_hours reads them, or names of seasons
};

/// "spring", "summer", "autumn", "winter", in lower case.
bool is_season(std::string_view word);

/// Clauses in the order written; a later one that holds wins over earlier ones.
/// A text without a single "value @ condition" gives one unreadable clause.
std::vector<ConditionalClause> read_conditional(std::string_view text, const Vehicle& vehicle);

} // namespace routing::roads
