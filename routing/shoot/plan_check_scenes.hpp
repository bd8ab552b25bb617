#pragma once
/// Scenes of a plan: each once, in its light, its location's hours and its own limits. One part of check_plan.

#include "routing/shoot/plan_fault.hpp"

namespace routing::shoot {

void check_scenes(const Plan& plan, const Shoot& shoot, PlanFaults& faults);

} // namespace routing::shoot
