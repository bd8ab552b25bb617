#include "cli/command_plan.hpp"

#include "cli/output_folder.hpp"
#include "cli/plan_documents.hpp"
#include "cli/read_shoot.hpp"
#include "cli/region_report.hpp"
#include "cli/shoot_region.hpp"
#include "cli/sky_option.hpp"
#include "cli/write_itinerary.hpp"
#include "routing/shoot/planner.hpp"

#include <CLI/CLI.hpp>

#include <iostream>
#include <memory>

namespace cli {

ExitCode run_plan(const PlanOptions& options) {
    const Replace replace = options.overwrite ? Replace::yes : Replace::no;
    const bool writes = !options.folder.empty();

    auto shoot = read_shoot(options.shoot);
    if (!options.sky.empty() && parse_sky(options.sky) != "any")
        shoot.told_sky = routing::shoot::ToldSky{options.sky, {}};
    if (writes)
        check_output(options.folder, plan_document_names(), replace);
    const auto region = load_shoot_region(shoot, options.no_prepared);
    if (!options.quiet)
        std::cerr << region_report(region) << prepared_report(region);

    routing::shoot::PlanSettings settings;
    settings.limits.time = geo::Seconds(options.time_limit);
    auto plan = routing::shoot::plan_shoot(shoot, region, settings);
    plan.wards = routing::shoot::nearest_wards(plan, shoot, region);

    const PlanSource source = plan_source(options.shoot, options.folder, region);
    if (writes) {
        write_documents(options.folder, plan_documents(plan, shoot, source), replace);
        if (!options.quiet)
            std::cerr << written_report(options.folder, plan_document_names());
    }
    std::cout << write_itinerary(plan, shoot, source);
    return plan.result == routing::shoot::PlanResult::partial ? ExitCode::no_full_plan : ExitCode::done;
}

void add_plan(CLI::App& app, ExitCode& exit_code) {
    CLI::App* command =
        app.add_subcommand("plan", "Plan a shoot: order of scenes, meals and beds, with ways and light");
    const auto options = std::make_shared<PlanOptions>();
    command->add_option("SHOOT", options->shoot, "shoot file (JSON); - for standard input")->required();
    command->add_option("-o,--output", options->folder,
                        "folder for plan.json, route.geojson and itinerary.md; created when missing. "
                        "Without it the itinerary is only printed");
    command->add_flag("--overwrite", options->overwrite, "replace documents that are there already");
    command
        ->add_option("--time-limit", options->time_limit,
                     "stop proving after this many seconds and take the best order found (default: no limit). "
                     "With a limit, two runs may differ")
        ->check(CLI::Range(1, 86400));
    command->add_option("--sky", options->sky,
                        "plan for this sky on every day: only what suits it is shot. clear, few, scattered, broken, "
                        "overcast, fog, drizzle, rain, showers, snow or storm");
    command->add_flag("-q,--quiet", options->quiet, "say nothing on standard error but faults");
    add_no_prepared(*command, options->no_prepared);
    command->footer("Example: dayweave plan shoot.json -o monday\n"
                    "Exit: 0 done, 1 failed, 2 wrong arguments or input, 3 no plan keeps every must (the best partial "
                    "one is still written)");
    command->callback([options, &exit_code] { exit_code = run_plan(*options); });
}

} // namespace cli
