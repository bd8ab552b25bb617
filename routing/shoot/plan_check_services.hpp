#pragma once
/// Meals and beds of a plan: where, when, and whether the map says they are open. One part of check_plan.

#include "routing/shoot/plan_fault.hpp"
#include "routing/shoot/region.hpp"

namespace routing::shoot {

void check_services(const Plan& plan, const Shoot& shoot, const Region& region, PlanFaults& faults);

} // namespace routing::shoot
