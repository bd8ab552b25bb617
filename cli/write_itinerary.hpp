#pragma once
/// itinerary.md: the order of the day for people. Markdown that reads as plain text too; times to the minute.

#include "cli/plan_source.hpp"
#include "routing/shoot/plan.hpp"

#include <string>

namespace cli {

/// Title and result; a table, the ways and notes for each day; what is left out and why; warnings, cautions, sources.
std::string write_itinerary(const routing::shoot::Plan& plan, const routing::shoot::Shoot& shoot,
                            const PlanSource& source);

/// "opening at the Arch": how a stop is called in running text; escaped for Markdown.
std::string stop_words(const routing::shoot::PlanStop& stop);

} // namespace cli
