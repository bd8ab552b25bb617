#include "cli/command_check.hpp"

#include "cli/check_report.hpp"
#include "cli/json_value.hpp"
#include "cli/plan_report.hpp"
#include "cli/read_plan.hpp"
#include "cli/read_shoot.hpp"
#include "cli/region_report.hpp"
#include "cli/shoot_region.hpp"
#include "routing/shoot/closed_roads.hpp"
#include "routing/shoot/plan_check.hpp"

#include <CLI/CLI.hpp>

#include <filesystem>
#include <iostream>
#include <memory>

namespace cli {

namespace {

/// The file to check, read once: standard input can't be read again.
struct Checked {
    std::string text;
    std::string name; ///< for messages
    std::filesystem::path folder;
};

Checked read_checked(const std::string& file) {
    if (file == "-")
        return {read_text_file(file), "standard input", {}};
    return {read_text_file(file), file, std::filesystem::path(file).parent_path()};
}

ExitCode check_shoot_file(const CheckOptions& options, const Checked& checked) {
    if (!options.shoot.empty())
        throw geo::InputError({{"check", "SHOOT", options.shoot, "stands behind a file that is no plan.json",
                                "give one shoot file, or a plan.json and its shoot file"}});
    auto shoot = parse_shoot(checked.text, checked.name, checked.folder);
    const auto region = load_shoot_region(shoot, options.no_prepared);
    const auto map = check_map(shoot, region);
    std::cout << check_report(shoot, map) << "\n## Map\n\n" << region_report(region) << "\n" << network_report(region);
    return ExitCode::done;
}

ExitCode check_plan_file(const CheckOptions& options, const Checked& checked) {
    const PlanFile file = parse_plan(checked.text, checked.name, checked.folder);
    if (options.shoot.empty() && file.shoot_file.empty())
        throw geo::InputError(
            {{file.file, "/shoot", "", "names no shoot file", "give it: dayweave check PLAN.json SHOOT.json"}});
    auto shoot = read_shoot(options.shoot.empty() ? file.shoot_file : options.shoot);
    check_plan_fits(file, shoot);
    const auto region = load_shoot_region(shoot, options.no_prepared);
    routing::shoot::close_roads(shoot, file.plan.closures, region); // throws for one that matches nothing
    const auto faults = routing::shoot::check_plan(file.plan, shoot, region);
    if (!faults.empty())
        throw geo::InputError(plan_faults(faults, checked.name));
    std::cout << sound_plan_report(file.plan, shoot);
    return ExitCode::done;
}

} // namespace

ExitCode run_check(const CheckOptions& options) {
    const Checked checked = read_checked(options.file);
    return is_plan(checked.text) ? check_plan_file(options, checked) : check_shoot_file(options, checked);
}

void add_check(CLI::App& app, ExitCode& exit_code) {
    CLI::App* command = app.add_subcommand(
        "check", "Check a shoot file against itself, the sun and the map, or reckon a plan anew by other code");
    const auto options = std::make_shared<CheckOptions>();
    command->add_option("FILE", options->file, "shoot file (JSON) or plan.json; - for standard input")->required();
    command->add_option("SHOOT", options->shoot, "with a plan: its shoot file (default: the one the plan names)");
    add_no_prepared(*command, options->no_prepared);
    command->footer("Example: dayweave check shoot.json\n"
                    "         dayweave check monday/plan.json\n"
                    "Exit: 0 no faults, 1 failed, 2 faults (all of them on standard error)");
    command->callback([options, &exit_code] { exit_code = run_check(*options); });
}

} // namespace cli
