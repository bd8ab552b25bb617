#pragma once
/// Times as a crew gives them on the command line.

#include "routing/shoot/plan.hpp"

#include <string>

namespace cli {

/// "2027-05-14T14:05" local to the shoot (an offset may follow), or "14:05": then the date is that of the one day of
/// the plan that holds this clock time, between the earliest call and the latest wrap the shoot gives it or the plan's
/// own call and wrap. Throws geo::InputError for the field `option` when no day holds it or several do.
geo::Instant parse_plan_time(const std::string& text, const std::string& option, const routing::shoot::Shoot& shoot,
                             const routing::shoot::Plan& plan);

} // namespace cli
