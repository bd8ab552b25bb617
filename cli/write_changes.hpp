#pragma once
/// changes.md: what a re-plan changed. The first line says what to do now and by when.

#include "cli/plan_source.hpp"
#include "routing/shoot/replan.hpp"

#include <string>

namespace cli {

std::string write_changes(const routing::shoot::Replan& replan, const routing::shoot::Shoot& shoot,
                          const routing::shoot::Changes& changes);

} // namespace cli
