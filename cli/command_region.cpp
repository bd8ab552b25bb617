#include "cli/command_region.hpp"

#include "cli/number_text.hpp"
#include "cli/plain_text.hpp"
#include "cli/progress_line.hpp"
#include "cli/read_shoot.hpp"
#include "cli/region_report.hpp"
#include "geo/input_error.hpp"
#include "routing/roads/region_file.hpp"

#include <CLI/CLI.hpp>

#include <iostream>
#include <memory>

namespace cli {

namespace {

bool is_prepared(const std::string& file) {
    return file.ends_with(".prepared");
}

routing::roads::Vehicle vehicle_of(const RegionOptions& options) {
    return options.shoot.empty() ? routing::roads::Vehicle{} : read_shoot(options.shoot).crew.vehicle;
}

std::string map_report(const routing::shoot::Region& region) {
    std::string text = "date of the data: " + (region.data_date.empty() ? "not said" : shown(region.data_date)) + "\n";
    if (region.box)
        text += "box: " + degrees_text(region.box->south_west) + " to " + degrees_text(region.box->north_east) + "\n";
    const auto& sizes = region.network->component_size;
    text += "strong components: " + std::to_string(sizes.size());
    if (!sizes.empty())
        text += ", the largest of " + std::to_string(sizes.front()) + " nodes";
    return text + "\n";
}

std::string section_report(const std::string& file) {
    const auto opened = routing::roads::open_region_file(file);
    std::string text;
    if (opened.file)
        for (const auto& section : opened.file->sections())
            text += "section " + shown(section.name) + ": " + std::to_string(section.bytes.size()) + " bytes\n";
    return text;
}

} // namespace

ExitCode run_region_prepare(const RegionOptions& options) {
    const auto vehicle = vehicle_of(options);
    const auto region = [&] {
        ProgressLine progress;
        return routing::shoot::load_region(options.files, vehicle, routing::shoot::Prepared::use, progress.watch());
    }();
    const std::string prepared = routing::shoot::prepared_path(options.files, vehicle).string();
    if (!region.has_prepared)
        throw geo::InputError({{options.files.front(), "", "", "has no prepared file: " + region.prepared_note,
                                "copy the extract to a folder you may write to"}});
    std::cerr << region_report(region) << prepared_report(region);
    std::cout << prepared << "\n";
    return ExitCode::done;
}

ExitCode run_region_info(const RegionOptions& options) {
    const bool prepared = options.files.size() == 1 && is_prepared(options.files.front());
    const auto region = prepared ? routing::shoot::read_prepared(options.files.front())
                                 : routing::shoot::load_region(options.files, vehicle_of(options));
    std::cout << region_report(region) << map_report(region);
    if (prepared)
        std::cout << section_report(options.files.front());
    if (options.doubts)
        std::cout << network_report(region);
    return ExitCode::done;
}

void add_region(CLI::App& app, ExitCode& exit_code) {
    CLI::App* command = app.add_subcommand("region", "Prepare a map for quick loading, or tell what it holds");
    command->require_subcommand(1);
    command->footer("Example: dayweave region prepare map.osm.pbf --shoot shoot.json\n"
                    "Exit: 0 done, 1 failed, 2 wrong arguments or input");
    const auto options = std::make_shared<RegionOptions>();
    CLI::App* prepare =
        command->add_subcommand("prepare", "Write the prepared file beside an extract, unless one that fits is there");
    prepare->add_option("EXTRACT", options->files, "OpenStreetMap extract; several make one map")->required();
    CLI::App* info = command->add_subcommand("info", "Counts, box, date, components of a map");
    info->add_option("FILE", options->files, "OpenStreetMap extracts, or one prepared file")->required();
    info->add_flag("--doubts", options->doubts, "list what the road rules skipped, closed or doubted");
    for (CLI::App* one : {prepare, info})
        one->add_option("--shoot", options->shoot, "shoot file whose vehicle counts (default: sizes not known)");
    prepare->callback([options, &exit_code] { exit_code = run_region_prepare(*options); });
    info->callback([options, &exit_code] { exit_code = run_region_info(*options); });
}

} // namespace cli
