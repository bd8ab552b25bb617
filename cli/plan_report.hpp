#pragma once
/// What `check` says of a plan.
///
///     if (is_plan(text)) { ... plan_faults(check_plan(plan, shoot, region), "plan.json") ... }

#include "geo/input_error.hpp"
#include "routing/shoot/plan.hpp"
#include "routing/shoot/plan_fault.hpp"

#include <string>
#include <vector>

namespace cli {

/// Whether a file's text is a plan's: JSON that says which program planned its days. Broken JSON is none.
bool is_plan(const std::string& text);

/// As faults of the file: field, value, what is wrong and where in the day, what it should be.
std::vector<geo::InputFault> plan_faults(const std::vector<routing::shoot::PlanFault>& faults, const std::string& file);

/// "No faults: 1 day, 8 stops, 7 legs of Salt reckoned anew, ...", and what is taken as told.
std::string sound_plan_report(const routing::shoot::Plan& plan, const routing::shoot::Shoot& shoot);

} // namespace cli
