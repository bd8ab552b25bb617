#pragma once
/// Reads back a plan.json, which may have been edited by hand: checked as strictly as a shoot file.
///
///     const PlanFile file = cli::read_plan("monday/plan.json");
///     const Shoot shoot = cli::read_shoot(file.shoot_file);
///     cli::check_plan_fits(file, shoot);

#include "routing/shoot/plan.hpp"

#include <filesystem>
#include <string>

namespace cli {

struct PlanFile {
    std::string file; ///< for messages
    std::string title;
    std::string zone_name;
    std::string shoot_file; ///< as a path that can be opened; empty when the plan names none
    routing::shoot::Plan plan;
};

/// Throws geo::InputError with all faults of the file; "-" is standard input.
PlanFile read_plan(const std::string& file);
/// The same for text at hand; `folder` is where relative paths start.
PlanFile parse_plan(const std::string& text, const std::string& file, const std::filesystem::path& folder);

/// Throws geo::InputError where the plan speaks of scenes, options or days the shoot does not have.
void check_plan_fits(const PlanFile& file, const routing::shoot::Shoot& shoot);

} // namespace cli
