#pragma once
/// What a re-plan means for the crew: the one line to act on now, and stop by stop what moved.

#include "routing/shoot/progress.hpp"
#include "routing/shoot/replan.hpp"

#include <string>
#include <vector>

namespace routing::shoot {

/// "Finish "Salt road" by 14:10, then leave by 14:20 for the mill (38 min): "Wheel" starts 15:05."
std::string what_now(const Shoot& shoot, const Plan& plan, const Progress& progress, Instant now);

/// Every stop that is not past, by time in the new plan, then those that went.
std::vector<ChangeRow> compare_plans(const Plan& old_plan, const Plan& new_plan);

} // namespace routing::shoot
