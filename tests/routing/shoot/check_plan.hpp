#pragma once
/// An independent judge of plans: recomputes every rule from the shoot and the map without the planner's own tables.

#include "routing/shoot/plan.hpp"
#include "routing/shoot/region.hpp"
#include "routing/shoot/shoot.hpp"

#include <string>
#include <vector>

/// Everything that is wrong with the plan, in words; empty when it holds. Checked: each scene at most once and either
/// planned or dropped; filming inside the light (sun altitude sampled each 30 s, or the clock); set-up and packing
/// time; legs not shorter than a path search says, and as long as plain Dijkstra says while roads are shut for a time,
/// and not before leaving; call, wrap, turnaround; meals inside their window; `after`; days start and end where they
/// should; leave_by keeps the stop after it; slack = leave_by - leave.
std::vector<std::string> faults_of(const routing::shoot::Plan& plan, const routing::shoot::Shoot& shoot,
                                   const routing::shoot::Region& region);
