#pragma once
/// The legs of a plan by plain searches: one part of check_plan.
///
/// The crew's wishes on roads are kept for a whole plan or set aside for all of it, and the plan does not say which: a
/// leg is right by the set of wishes that makes most legs right, of equals the one that keeps most.

#include "routing/shoot/plan_fault.hpp"
#include "routing/shoot/region.hpp"

namespace routing::shoot {

void check_legs(const Plan& plan, const Shoot& shoot, const Region& region, PlanFaults& faults);

} // namespace routing::shoot
