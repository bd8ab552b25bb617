#pragma once
/// plan.json: the plan for programs, and for `replan` to start from. Format in docs/plan-file.md.

#include "cli/plan_source.hpp"
#include "routing/shoot/plan.hpp"

#include <string>

namespace cli {

/// The same bytes for the same plan: members in a fixed order, two spaces of indent, instants in the shoot's zone with
/// their offset, metres to 0.1, angles to 0.01, positions to 1e-7 degrees. The time the computer took is left null.
std::string write_plan(const routing::shoot::Plan& plan, const routing::shoot::Shoot& shoot, const PlanSource& source);

} // namespace cli
