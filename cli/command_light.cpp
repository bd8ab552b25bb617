#include "cli/command_light.hpp"

#include "cli/close_option.hpp"
#include "cli/field_values.hpp"
#include "cli/number_text.hpp"
#include "cli/plain_text.hpp"
#include "cli/read_shoot.hpp"
#include "cli/write_light.hpp"
#include "geo/input_error.hpp"
#include "geo/terrain/direct_sun.hpp"
#include "geo/terrain/horizon_cache.hpp"
#include "routing/shoot/ground.hpp"

#include <CLI/CLI.hpp>

#include <iostream>
#include <memory>

namespace cli {

namespace {

/// Places with their light, and the zone of their times.
struct LightAsked {
    std::vector<LightPlace> places;
    geo::TimeZone zone;
};

LightAsked light_of_shoot(const std::string& file) {
    auto shoot = read_shoot(file);
    routing::shoot::find_horizons(shoot, routing::shoot::Prepared::use);
    LightAsked asked{{}, shoot.zone};
    for (const auto& location : shoot.locations) {
        asked.places.push_back({location.id, location.name, location.at, {}, location.facing});
        for (const auto& day : shoot.days)
            asked.places.back().days.push_back(
                light_of_day(location.at, day.date, shoot.zone, routing::shoot::surroundings_of(location)));
    }
    return asked;
}

LightAsked light_of_place(const LightOptions& options) {
    std::vector<geo::InputFault> faults;
    const auto add = [&](const std::string& option, const std::string& value, const std::string& problem,
                         const std::string& mend) {
        faults.push_back({"", option, shown(value), problem, mend});
    };
    const auto zone = geo::find_time_zone(options.zone);
    if (options.zone.empty())
        add("--zone", "", "is missing", "name a time zone, like Atlantic/Azores");
    else if (!zone)
        add("--zone", options.zone, "is no time zone known here",
            "did you mean \"" + geo::nearest_zone_name(options.zone) + "\"?");
    const auto date = geo::parse_date(options.date);
    if (options.date.empty())
        add("--date", "", "is missing", "write YYYY-MM-DD");
    else if (!date || !is_plannable(*date))
        add("--date", options.date, "is not a date", "write YYYY-MM-DD, a day that exists, 1970 to 2100");
    if (options.facing && !(*options.facing >= 0.0 && *options.facing <= 360.0)) // "nan" passes CLI::Range
        add("--facing", number_text(*options.facing), "is no direction", "give 0 to 360 degrees");
    geo::Coordinate at;
    try {
        at = parse_place(options.at, "--at");
    } catch (const geo::InputError& error) {
        faults.insert(faults.begin(), error.faults().begin(), error.faults().end());
    }
    if (!faults.empty())
        throw geo::InputError(std::move(faults));

    geo::Surroundings around;
    if (!options.terrain.empty()) {
        const auto horizon = geo::terrain::HorizonCache({options.terrain.begin(), options.terrain.end()}, {}).at(at);
        if (!horizon)
            throw geo::InputError({{"--terrain", "", options.at, "is where no tile knows the ground",
                                    "name the tile that holds it, or leave --terrain out"}});
        around.direct_sun = [at, horizon = *horizon](geo::Interval span) {
            return geo::terrain::direct_sun(at, horizon, span).direct;
        };
    }
    LightPlace place{"", "Light", at, light_of_days(at, *date, options.days, *zone, around), {}};
    if (options.facing)
        place.facing = geo::Degrees{*options.facing};
    return {{std::move(place)}, *zone};
}

} // namespace

ExitCode run_light(const LightOptions& options) {
    if (options.shoot.empty() == options.at.empty())
        throw geo::InputError(
            {{"light", "", "", options.at.empty() ? "says neither SHOOT nor --at" : "says both SHOOT and --at",
              "give a shoot file, or --at LAT,LON --date DATE --zone ZONE"}});
    const LightAsked asked = options.shoot.empty() ? light_of_place(options) : light_of_shoot(options.shoot);
    std::cout << (options.json  ? light_json(asked.places, asked.zone)
                  : options.csv ? light_csv(asked.places, asked.zone)
                                : light_tables(asked.places, asked.zone));
    return ExitCode::done;
}

void add_light(CLI::App& app, ExitCode& exit_code) {
    CLI::App* command = app.add_subcommand("light", "Tell the light of places: windows and what sun and moon do");
    const auto options = std::make_shared<LightOptions>();
    auto* shoot = command->add_option("SHOOT", options->shoot,
                                      "shoot file (JSON): every location on every day; - for standard input");
    auto* at =
        command->add_option("--at", options->at, "one place instead, LAT,LON in degrees, like --at=-35.21,-8.47");
    auto* date = command->add_option("--date", options->date, "first day, YYYY-MM-DD (with --at)");
    auto* zone = command->add_option("--zone", options->zone, "time zone, like Atlantic/Azores (with --at)");
    auto* days = command->add_option("--days", options->days, "number of days (with --at; default 1, most 60)")
                     ->check(CLI::Range(1, 60));
    auto* facing = command
                       ->add_option("--facing", options->facing,
                                    "the way the camera looks, degrees clockwise from true north (with --at)")
                       ->check(CLI::Range(0.0, 360.0));
    auto* terrain = command
                        ->add_option("--terrain", options->terrain,
                                     "elevation tile (.hgt, .hgt.zip, GeoTIFF), several times if need be (with --at; "
                                     "a shoot file names its own)")
                        ->allow_extra_args(false);
    for (auto* option : {at, date, zone, days, facing, terrain})
        option->excludes(shoot);
    auto* json = command->add_flag("--json", options->json, "JSON instead of tables");
    command->add_flag("--csv", options->csv, "comma-separated values instead of tables")->excludes(json);
    command->footer("Example: dayweave light --at=-35.21,-8.47 --date 2027-05-14 --zone Atlantic/Azores\n"
                    "Exit: 0 done, 1 failed, 2 wrong arguments or input");
    command->callback([options, &exit_code] { exit_code = run_light(*options); });
}

} // namespace cli
