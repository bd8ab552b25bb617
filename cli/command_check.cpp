#include "cli/command_check.hpp"

#include "cli/check_report.hpp"
#include "cli/read_shoot.hpp"
#include "cli/region_report.hpp"
#include "cli/shoot_region.hpp"

#include <CLI/CLI.hpp>

#include <iostream>
#include <memory>

namespace cli {

ExitCode run_check(const CheckOptions& options) {
    auto shoot = read_shoot(options.shoot);
    const auto region = load_shoot_region(shoot, options.no_prepared);
    const auto map = check_map(shoot, region);
    std::cout << check_report(shoot, map) << "\n## Map\n\n" << region_report(region) << "\n" << network_report(region);
    return ExitCode::done;
}

void add_check(CLI::App& app, ExitCode& exit_code) {
    CLI::App* command = app.add_subcommand("check", "Check a shoot file against itself, the sun and the map");
    const auto options = std::make_shared<CheckOptions>();
    command->add_option("SHOOT", options->shoot, "shoot file (JSON); - for standard input")->required();
    add_no_prepared(*command, options->no_prepared);
    command->footer("Example: dayweave check shoot.json\n"
                    "Exit: 0 no faults, 1 failed, 2 faults (all of them on standard error)");
    command->callback([options, &exit_code] { exit_code = run_check(*options); });
}

} // namespace cli
