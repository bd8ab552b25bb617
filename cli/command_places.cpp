#include "cli/command_places.hpp"

#include "cli/fault_list.hpp"
#include "cli/known_names.hpp"
#include "cli/plain_text.hpp"
#include "cli/read_shoot.hpp"
#include "cli/shoot_region.hpp"
#include "cli/write_places.hpp"
#include "geo/input_error.hpp"

#include <CLI/CLI.hpp>

#include <array>
#include <iostream>
#include <memory>

namespace cli {

namespace {

using routing::places::Need;
using routing::places::PlaceKind;

constexpr int usual_minutes = 30;
constexpr std::array<std::pair<const char*, Need>, 5> needs{
    {{"food", Need::food}, {"fuel", Need::fuel}, {"bed", Need::bed}, {"parking", Need::parking}, {"care", Need::care}}};

std::vector<PlaceKind> every_kind() {
    std::vector<PlaceKind> kinds;
    for (int n = 0; n <= static_cast<int>(PlaceKind::pharmacy); ++n)
        kinds.push_back(static_cast<PlaceKind>(n));
    return kinds;
}

/// A need, one kind of place as the map calls it, or "all".
std::vector<PlaceKind> parse_kinds(const std::string& text) {
    if (text == "all")
        return {};
    std::vector<PlaceKind> kinds;
    std::vector<std::string> known{"all"};
    for (const auto& [name, need] : needs) {
        known.emplace_back(name);
        for (const PlaceKind kind : every_kind())
            if (text == name && routing::places::need_of(kind) == need)
                kinds.push_back(kind);
    }
    if (!kinds.empty())
        return kinds;
    if (const auto kind = routing::places::parse_place_kind(text))
        return {*kind};
    std::vector<std::string> names = known;
    for (const PlaceKind kind : every_kind())
        names.emplace_back(routing::places::to_string(kind));
    throw geo::InputError({{"", "--kind", shown(text), "is no kind of place known here",
                            offer_names(text, meant_name(text, names) ? names : known, "kind")}});
}

/// "2027-09-10T12:00", or "12:00" on the only day of the shoot.
geo::Instant parse_time(const std::string& text, const routing::shoot::Shoot& shoot) {
    if (const auto clock = geo::parse_clock(text)) {
        if (shoot.days.size() == 1)
            return geo::instant_of(shoot.days.front().date, *clock, shoot.zone);
        throw geo::InputError({{"", "--at", text, "falls into several days of the shoot",
                                "give the date too, like " + geo::to_string(shoot.days.front().date) + "T" + text}});
    }
    if (const auto when = geo::parse_instant(text, shoot.zone))
        return *when;
    throw geo::InputError({{"", "--at", shown(text), "is no time",
                            "write 2027-05-14T12:00, or 12:00 on a shoot's "
                            "only day"}});
}

geo::Coordinate van_at(const NearSpot& spot, const routing::shoot::Shoot& shoot, const routing::shoot::Region& region,
                       geo::Seconds& walk) {
    if (!spot.location)
        return spot.at;
    const auto van = routing::shoot::van_spot(shoot.locations[*spot.location], shoot, region);
    walk = van.walk;
    return van.at;
}

/// Every wrong option is told, not just the first.
PlacesAsked read_asked(const PlacesOptions& options, const routing::shoot::Shoot& shoot,
                       routing::shoot::NearbyWish& wish) {
    PlacesAsked asked;
    FaultList faults;
    faults.collect([&] { asked.near = parse_near(options.near, "--near", shoot); });
    if (!options.then.empty())
        faults.collect([&] { asked.then = parse_near(options.then, "--then", shoot); });
    faults.collect([&] { wish.kinds = parse_kinds(options.kind); });
    if (!options.at.empty())
        faults.collect([&] { asked.at = wish.at = parse_time(options.at, shoot); });
    faults.throw_if_any();
    asked.kind = options.kind;
    asked.care = options.kind == "care";
    // Who needs a doctor asks for the nearest, however far.
    const int within = options.within.value_or(asked.care ? 0 : usual_minutes);
    if (within > 0)
        asked.within = wish.within = std::chrono::minutes(within);
    wish.most = static_cast<std::size_t>(options.most);
    wish.wards_first = asked.care;
    return asked;
}

} // namespace

ExitCode run_places(const PlacesOptions& options) {
    auto shoot = read_shoot(options.shoot);
    routing::shoot::NearbyWish wish;
    PlacesAsked asked = read_asked(options, shoot, wish);
    const auto region = load_shoot_region(shoot, options.no_prepared);
    wish.from = van_at(asked.near, shoot, region, asked.walk);
    geo::Seconds walk_there{0}; // the plan's concern
    if (asked.then)
        wish.then = van_at(*asked.then, shoot, region, walk_there);
    const auto nearby = routing::shoot::nearby_places(wish, shoot, region);
    std::cout << (options.json  ? places_json(asked, nearby, shoot, region)
                  : options.csv ? places_csv(asked, nearby, shoot, region)
                                : places_table(asked, nearby, shoot, region));
    return ExitCode::done;
}

void add_places(CLI::App& app, ExitCode& exit_code) {
    CLI::App* command =
        app.add_subcommand("places", "Tell where to eat, sleep, fill up, park or get help near a spot of the shoot");
    const auto options = std::make_shared<PlacesOptions>();
    command->add_option("SHOOT", options->shoot, "shoot file (JSON); - for standard input")->required();
    command
        ->add_option("--near", options->near,
                     "id of a location or scene, base, or LAT,LON in degrees, like --near=-35.21,-8.47")
        ->required();
    command->add_option("--then", options->then,
                        "where the crew goes on to, likewise; the detour is against going straight "
                        "(default: back to --near)");
    command->add_option(
        "--kind", options->kind,
        "food, fuel, bed, parking, care, all, or one kind as the map calls it, like cafe (default all)");
    command->add_option("--within", options->within, "most minutes by van (default 30, for care no limit; 0: no limit)")
        ->check(CLI::Range(0, 1440));
    command->add_option("--at", options->at,
                        "whether open at that time, 2027-09-10T12:00, or 12:00 on a shoot's only day; local to the "
                        "shoot (default: over each of its days)");
    command->add_option("--most", options->most, "most places told (default 20; 0: all)")
        ->check(CLI::Range(0, 100'000));
    auto* json = command->add_flag("--json", options->json, "JSON instead of a table");
    command->add_flag("--csv", options->csv, "comma-separated values instead of a table")->excludes(json);
    add_no_prepared(*command, options->no_prepared);
    command->footer("Example: dayweave places shoot.json --near arch --then mill --kind food --at 12:30\n"
                    "Exit: 0 done, 1 failed, 2 wrong arguments or input");
    command->callback([options, &exit_code] { exit_code = run_places(*options); });
}

} // namespace cli
