#include "cli/command_light.hpp"

#include "cli/find_light.hpp"
#include "cli/light_picture.hpp"
#include "cli/light_places.hpp"
#include "cli/number_text.hpp"
#include "cli/plain_text.hpp"
#include "cli/write_light.hpp"
#include "cli/write_light_found.hpp"
#include "geo/input_error.hpp"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <iostream>
#include <memory>

namespace cli {

namespace {

constexpr int most_days = 60;
constexpr int most_days_to_find = 366;

/// Light of all the days; days that follow each other are reckoned together, which is quicker.
std::vector<LightDay> light_of_dates(const LightPlace& place, const std::vector<geo::CivilDate>& dates,
                                     const geo::TimeZone& zone) {
    const geo::Surroundings around = surroundings_of(place);
    std::vector<LightDay> light;
    for (std::size_t first = 0; first < dates.size();) {
        std::size_t next = first + 1;
        while (next < dates.size() && dates[next] == geo::next_date(dates[next - 1]))
            ++next;
        auto run = light_of_days(place.at, dates[first], static_cast<int>(next - first), zone, around);
        std::move(run.begin(), run.end(), std::back_inserter(light));
        first = next;
    }
    return light;
}

/// Needs no more of the places than where they are and what stands round them.
std::vector<PlaceFound> find_everywhere(const FindWish& wish, const LightAsked& asked) {
    std::vector<PlaceFound> found;
    const auto* name = std::get_if<geo::LightName>(&wish.what);
    std::vector<geo::InputFault> faults;
    for (const LightPlace& place : asked.places) {
        if (name != nullptr && geo::needs_terrain(*name) && !place.horizon)
            faults.push_back({"", "--find", std::string(geo::to_string(*name)),
                              "needs the ground's own horizon, which is not known at " + place.name,
                              "name elevation tiles: --terrain, or terrain in the shoot file"});
        else
            found.push_back({place, asked.dates, find_light(wish, {place.at, place.horizon}, asked.dates, asked.zone)});
    }
    if (!faults.empty())
        throw geo::InputError(std::move(faults));
    return found;
}

std::vector<geo::CivilDate> dates_of(const std::vector<FoundLight>& found) {
    std::vector<geo::CivilDate> dates;
    for (const FoundLight& hit : found)
        if (dates.empty() || dates.back() != hit.date)
            dates.push_back(hit.date);
    return dates;
}

void check_days(const LightOptions& options) {
    if (options.days > most_days && !options.find)
        throw geo::InputError({{"", "--days", std::to_string(options.days), "are too many days to print",
                                "give 1 to " + std::to_string(most_days) + "; --find looks through " +
                                    std::to_string(most_days_to_find)}});
}

} // namespace

ExitCode run_light(const LightOptions& options) {
    check_days(options);
    const auto wish = options.find ? std::optional(parse_find_wish(*options.find)) : std::nullopt;
    LightAsked asked = light_places(options);
    const Replace replace = options.overwrite ? Replace::yes : Replace::no;
    if (!options.pictures.empty())
        check_output(options.pictures,
                     wish ? std::vector<std::string>{} : light_picture_names(asked.places, asked.dates), replace);

    std::string told;
    if (wish) {
        const auto found = find_everywhere(*wish, asked);
        told = options.json  ? found_json(*wish, found, asked.zone)
               : options.csv ? found_csv(*wish, found, asked.zone)
                             : found_tables(*wish, found, asked.zone);
        if (!options.pictures.empty())
            for (std::size_t n = 0; n < found.size(); ++n)
                asked.places[n].days = light_of_dates(asked.places[n], dates_of(found[n].found), asked.zone);
    } else {
        for (LightPlace& place : asked.places)
            place.days = light_of_dates(place, asked.dates, asked.zone);
        told = options.json  ? light_json(asked.places, asked.zone)
               : options.csv ? light_csv(asked.places, asked.zone)
                             : light_tables(asked.places, asked.zone);
    }
    if (!options.pictures.empty()) {
        const auto pictures = light_pictures(asked.places, asked.zone);
        if (!pictures.empty())
            write_documents(options.pictures, pictures, replace);
        std::cerr << count_text(pictures.size(), "picture") + " written to " + one_line(options.pictures) + "\n";
    }
    std::cout << told;
    return ExitCode::done;
}

void add_light(CLI::App& app, ExitCode& exit_code) {
    CLI::App* command = app.add_subcommand("light", "Tell the light of places: windows and what sun and moon do");
    const auto options = std::make_shared<LightOptions>();
    auto* shoot = command->add_option("SHOOT", options->shoot,
                                      "shoot file (JSON): every location on every day; - for standard input");
    auto* at =
        command->add_option("--at", options->at, "one place instead, LAT,LON in degrees, like --at=-35.21,-8.47");
    command->add_option("--date", options->date, "first day, YYYY-MM-DD; with a shoot instead of its own days");
    auto* zone = command->add_option("--zone", options->zone, "time zone, like Atlantic/Azores (with --at)");
    command->add_option("--days", options->days, "number of days from --date (default 1, most 60; with --find 366)")
        ->check(CLI::Range(1, most_days_to_find));
    auto* facing = command
                       ->add_option("--facing", options->facing,
                                    "the way the camera looks, degrees clockwise from true north (with --at)")
                       ->check(CLI::Range(0.0, 360.0));
    auto* terrain = command
                        ->add_option("--terrain", options->terrain,
                                     "elevation tile (.hgt, .hgt.zip, GeoTIFF), several times if need be (with --at; "
                                     "a shoot file names its own)")
                        ->allow_extra_args(false);
    auto* lens = command
                     ->add_option("--lens", options->lens,
                                  "focal length of the camera's lens, mm on a picture 36 x 24 mm, drawn in pictures "
                                  "(with --at and --facing)")
                     ->check(CLI::Range(4.0, 2000.0));
    for (auto* option : {at, zone, facing, terrain, lens})
        option->excludes(shoot);
    command->add_option("--find", options->find,
                        "print only the days that have this and when, like \"sunset at bearing 235..245\" or "
                        "\"dark-sky for 30 min\"");
    auto* pictures = command->add_option("--pictures", options->pictures,
                                         "folder for a picture (SVG) of each place and day, created when missing; "
                                         "with --find only of the days found");
    command->add_flag("--overwrite", options->overwrite, "replace pictures that are there already")->needs(pictures);
    auto* json = command->add_flag("--json", options->json, "JSON instead of tables");
    command->add_flag("--csv", options->csv, "comma-separated values instead of tables")->excludes(json);
    command->footer("Example: dayweave light --at=-35.21,-8.47 --date 2027-05-14 --zone Atlantic/Azores\n"
                    "Exit: 0 done, 1 failed, 2 wrong arguments or input");
    command->callback([options, &exit_code] { exit_code = run_light(*options); });
}

} // namespace cli
