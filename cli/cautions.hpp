#pragma once
/// What a crew should bear in mind beside the times: tired driving, what was not checked.

#include "routing/shoot/plan.hpp"

#include <string>
#include <vector>

namespace cli {

/// Short sentences, the ones about single days first.
///
/// Limits: driving between 00 and 06 h and more than 2 h of driving without a break of 15 min (UK Highway Code, rule
/// 91); more than 13 h on duty leaves less than the 11 h of rest in 24 of Directive 2003/88/EC, article 3.
std::vector<std::string> cautions(const routing::shoot::Plan& plan, const routing::shoot::Shoot& shoot);

} // namespace cli
