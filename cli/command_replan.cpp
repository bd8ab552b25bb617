#include "cli/command_replan.hpp"

#include "cli/close_option.hpp"
#include "cli/fault_list.hpp"
#include "cli/output_folder.hpp"
#include "cli/plan_documents.hpp"
#include "cli/plan_time.hpp"
#include "cli/read_plan.hpp"
#include "cli/read_shoot.hpp"
#include "cli/region_report.hpp"
#include "cli/shoot_region.hpp"
#include "cli/sky_option.hpp"
#include "cli/write_changes.hpp"
#include "cli/write_itinerary.hpp"
#include "geo/input_error.hpp"
#include "routing/shoot/replan.hpp"

#include <CLI/CLI.hpp>

#include <iostream>
#include <memory>

namespace cli {

namespace {

/// Every wrong option is told, not just the first.
routing::shoot::Changes read_changes(const ReplanOptions& options, const routing::shoot::Shoot& shoot,
                                     const routing::shoot::Plan& plan) {
    routing::shoot::Changes changes;
    FaultList faults;
    faults.collect([&] { changes.now = parse_plan_time(options.now, "--now", shoot, plan); });
    if (!options.at.empty())
        faults.collect([&] { changes.at = parse_place(options.at, "--at"); });
    const ClosingClock clock{changes.now, shoot.zone};
    for (const std::string& closure : options.close)
        faults.collect([&] { changes.closures.push_back(parse_closure(closure, clock)); });
    std::string sky;
    if (!options.sky.empty())
        faults.collect([&] { sky = parse_sky(options.sky); });
    faults.throw_if_any();
    changes.sky = sky;
    changes.late = std::chrono::minutes(options.late);
    changes.done = options.done;
    changes.drop = options.drop;
    return changes;
}

std::string shoot_of(const ReplanOptions& options, const PlanFile& plan) {
    if (!options.shoot.empty())
        return options.shoot;
    if (plan.shoot_file.empty())
        throw geo::InputError(
            {{plan.file, "/shoot", "", "names no shoot file", "give it: dayweave replan PLAN.json SHOOT.json ..."}});
    return plan.shoot_file;
}

} // namespace

ExitCode run_replan(const ReplanOptions& options) {
    const Replace replace = options.overwrite ? Replace::yes : Replace::no;
    const bool writes = !options.folder.empty();
    std::vector<std::string> names = plan_document_names();
    names.emplace_back("changes.md");

    const PlanFile old = read_plan(options.plan);
    const std::string shoot_file = shoot_of(options, old);
    auto shoot = read_shoot(shoot_file);
    check_plan_fits(old, shoot);
    const auto changes = read_changes(options, shoot, old.plan);
    if (writes)
        check_output(options.folder, names, replace);
    const auto region = load_shoot_region(shoot, options.no_prepared);
    if (!options.quiet)
        std::cerr << region_report(region) << prepared_report(region);

    routing::shoot::PlanSettings settings;
    settings.limits.time = geo::Seconds(options.time_limit);
    auto result = routing::shoot::replan(shoot, region, old.plan, changes, settings);
    result.plan.wards = routing::shoot::nearest_wards(result.plan, shoot, region);

    const PlanSource source = plan_source(shoot_file, options.folder, region);
    const std::string changed = write_changes(result, shoot, changes);
    if (writes) {
        auto documents = plan_documents(result.plan, shoot, source);
        documents.push_back({"changes.md", changed});
        write_documents(options.folder, documents, replace);
        if (!options.quiet)
            std::cerr << written_report(options.folder, names);
    }
    std::cout << changed << "\n" << write_itinerary(result.plan, shoot, source);
    return result.plan.result == routing::shoot::PlanResult::partial ? ExitCode::no_full_plan : ExitCode::done;
}

void add_replan(CLI::App& app, ExitCode& exit_code) {
    CLI::App* command = app.add_subcommand("replan", "Plan the rest of a running shoot again after something changed");
    const auto options = std::make_shared<ReplanOptions>();
    command->add_option("PLAN", options->plan, "plan.json of the plan now in force")->required();
    command->add_option("SHOOT", options->shoot, "shoot file (default: the one the plan names)");
    command
        ->add_option("--now", options->now,
                     "time of the change, 2027-05-14T14:05, or 14:05 on the day it falls into; local to the shoot")
        ->required();
    command->add_option(
        "--at", options->at,
        "where the crew is, LAT,LON in degrees (default: where the plan puts them), like --at=-35.21,-8.47");
    command->add_option("--late", options->late, "minutes that what the crew is at takes longer (default 0)")
        ->check(CLI::Range(0, 1440));
    // One value each: a place behind it must not be taken for a second closure.
    command
        ->add_option("--close", options->close,
                     "what is shut, several times if need be: road:NAME, road:NAME@LAT,LON, ways:ID,ID, "
                     "line:LAT,LON;LAT,LON, area:LAT,LON;LAT,LON;LAT,LON or circle:LAT,LON,RADIUS_M; then, where "
                     "need be, whom it holds for (\" for foot\", \" for van,foot\"; else the van) and when "
                     "(\" from 14:30\", \" until 17:00\" or both)")
        ->allow_extra_args(false);
    command->add_option("--sky", options->sky,
                        "sky for the rest of the day: only what suits it is shot then; any: not known (default: as the "
                        "plan has it). clear, few, scattered, broken, "
                        "overcast, fog, drizzle, rain, showers, snow or storm");
    command->add_option("--done", options->done, "id of a scene already in the can; several times if need be")
        ->allow_extra_args(false);
    command->add_option("--drop", options->drop, "id of a scene given up; several times if need be")
        ->allow_extra_args(false);
    command->add_option("-o,--output", options->folder,
                        "folder for plan.json, route.geojson, itinerary.md and changes.md; created when missing. "
                        "Without it they are only printed");
    command->add_flag("--overwrite", options->overwrite, "replace documents that are there already");
    command
        ->add_option("--time-limit", options->time_limit,
                     "stop proving after this many seconds (default: no limit); two runs may then differ")
        ->check(CLI::Range(1, 86400));
    command->add_flag("-q,--quiet", options->quiet, "say nothing on standard error but faults");
    add_no_prepared(*command, options->no_prepared);
    command->footer(
        "Example: dayweave replan monday/plan.json -o monday-2 --now 14:05 --late 25 --close \"road:Pass Road\"\n"
        "Exit: 0 done, 1 failed, 2 wrong arguments or input, 3 no plan keeps every must");
    command->callback([options, &exit_code] { exit_code = run_replan(*options); });
}

} // namespace cli
