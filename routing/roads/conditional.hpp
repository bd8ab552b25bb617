#pragma once
/// Conditional restrictions: "no @ (Mo-Fr 07:00-09:00); 60 @ (weight>3.5)".
///
/// This step of the program decides without a time of day, so only conditions on the vehicle can be proved.
/// Source: OSM wiki, Conditional restrictions.

#include "routing/roads/vehicle.hpp"

#include <string_view>
#include <vector>

namespace routing::roads {

enum class Truth {
    no,
    yes,
    unknown,   ///< a time, the weather, a purpose: can't be proved here
    unreadable ///< not a condition known to the wiki page
};

struct ConditionalClause {
    std::string_view value;
    Truth holds = Truth::unreadable;
};

/// Clauses in the order written; a later one that holds wins over earlier ones.
/// A text without a single "value @ condition" gives one unreadable clause.
std::vector<ConditionalClause> read_conditional(std::string_view text, const Vehicle& vehicle);

} // namespace routing::roads
