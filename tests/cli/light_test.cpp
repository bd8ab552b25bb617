#include "shoot_fixture.hpp"

#include "cli/command_light.hpp"
#include "cli/light_day.hpp"
#include "cli/write_light.hpp"

#include <CLI/CLI.hpp>
#include <doctest/doctest.h>

#include <iostream>
#include <sstream>

using fixture::contains;
using fixture::Json;
using fixture::TemporaryFolder;

namespace {

struct Outcome {
    std::string out;
    int parse_code = 0; ///< of the argument parser
    cli::ExitCode code = cli::ExitCode::failed;
};

/// Runs `dayweave ARGUMENTS` as far as the argument parser and the command, catching what is printed.
Outcome run_light_command(std::vector<std::string> arguments) {
    CLI::App app("test", "dayweave");
    Outcome outcome;
    cli::add_light(app, outcome.code);
    std::ostringstream out;
    std::streambuf* const old = std::cout.rdbuf(out.rdbuf());
    struct Restore {
        std::streambuf* old;
        ~Restore() { std::cout.rdbuf(old); }
    } const restore{old};
    std::reverse(arguments.begin(), arguments.end());
    try {
        app.parse(arguments);
    } catch (const CLI::ParseError& error) {
        outcome.parse_code = error.get_exit_code();
    }
    outcome.out = out.str();
    return outcome;
}

std::vector<geo::InputFault> light_faults(const cli::LightOptions& options) {
    try {
        cli::run_light(options);
    } catch (const geo::InputError& error) {
        return error.faults();
    }
    return {};
}

} // namespace

TEST_CASE("the sun's day agrees with the almanac") {
    // USNO, 39 N 105 W, 2015-08-02, UTC-7: sunrise 05:01, sunset 19:10.
    const auto zone = *geo::find_time_zone("Etc/GMT+7");
    const auto light = cli::light_of_day({{39.0}, {-105.0}}, *geo::parse_date("2015-08-02"), zone);
    std::vector<std::string> names;
    for (const auto& moment : light.moments)
        names.push_back(moment.name + " " + geo::clock_text(moment.when, zone));
    REQUIRE(names.size() == 9);
    CHECK(names[3] == "sunrise 05:01");
    CHECK(names[4].starts_with("highest sun 12:0"));
    CHECK(names[5] == "sunset 19:10");
    CHECK(light.uncrossed.empty());
    CHECK(light.rows.size() == cli::listed_lights().size());
}

TEST_CASE("a sun that never sets is said in words") {
    const auto zone = *geo::find_time_zone("UTC");
    const auto light = cli::light_of_day({{75.0}, {20.0}}, *geo::parse_date("2027-06-21"), zone);
    CHECK(light.uncrossed.size() == 4);
    const std::string text = cli::light_tables({{"", "North", {{75.0}, {20.0}}, {light}}}, zone);
    CHECK(contains(text, "The sun stays above the horizon all day."));
    CHECK(contains(text, "never"));
    CHECK(contains(text, "all day"));
}

TEST_CASE("limits stand beside each light in words") {
    CHECK(cli::range_text(geo::SunAltitudeRange{{-4}, {6}, geo::HalfDay::evening}) == "-4° to 6°, evening");
    CHECK(cli::range_text(geo::SunAltitudeRange{{-90}, {-18}, {}}) == "below -18°");
    CHECK(cli::range_text(geo::SunAltitudeRange{{45}, {90}, {}}) == "above 45°");
    CHECK(cli::range_text(geo::SunAltitudeRange{{-50.0 / 60.0}, {6}, {}}) == "-0.83° to 6°");
    CHECK(cli::range_text(std::nullopt) == "any height");
}

TEST_CASE("positions south and west are taken from the command line with or without =") {
    for (const auto& at :
         {std::vector<std::string>{"--at", "-35.2,-8.1"}, std::vector<std::string>{"--at=-35.2,-8.1"}}) {
        std::vector<std::string> arguments{"light"};
        arguments.insert(arguments.end(), at.begin(), at.end());
        for (const char* more : {"--date", "2027-05-14", "--zone", "Atlantic/Azores", "--days", "2"})
            arguments.emplace_back(more);
        const auto outcome = run_light_command(arguments);
        CHECK(outcome.parse_code == 0);
        CHECK(outcome.code == cli::ExitCode::done);
        CHECK(contains(outcome.out, "(-35.2,-8.1)"));
        CHECK(contains(outcome.out, "## Friday 2027-05-14"));
        CHECK(contains(outcome.out, "## Saturday 2027-05-15"));
        CHECK(contains(outcome.out, "| golden-evening | "));
    }
    CHECK(run_light_command({"light", "--days", "0"}).parse_code != 0);
    CHECK(run_light_command({"light", "x.json", "--at", "1,2"}).parse_code != 0);
}

TEST_CASE("light as JSON holds the same windows") {
    const auto outcome = run_light_command(
        {"light", "--at", "-35.2,-8.1", "--date", "2027-05-14", "--zone", "Atlantic/Azores", "--json"});
    const Json json = Json::parse(outcome.out);
    CHECK(json["time_zone"] == "Atlantic/Azores");
    const Json& day = json["places"][0]["days"][0];
    CHECK(day["date"] == "2027-05-14");
    CHECK(day["lights"].size() == cli::listed_lights().size());
    for (const Json& light : day["lights"]) {
        CHECK((light["presence"] == "never") == light["windows"].empty());
        if (light["name"] == "golden-evening") {
            CHECK(light["sun_altitude"] == Json{-4.0, 6.0});
            CHECK(light["when"] == "evening");
            CHECK(light["windows"].size() == 1);
        }
    }
}

TEST_CASE("every wrong option of light is told at once") {
    cli::LightOptions options;
    options.at = "35";
    options.date = "2027-02-30";
    options.zone = "Atlantic/Azors";
    const auto faults = light_faults(options);
    CAPTURE(fixture::all_faults(faults));
    CHECK(faults.size() == 3);
    CHECK(fixture::has_fault(faults, "--at", "is no position", "LAT,LON"));
    CHECK(fixture::has_fault(faults, "--date", "is not a date", "YYYY-MM-DD"));
    CHECK(fixture::has_fault(faults, "--zone", "is no time zone", "Atlantic/Azores"));
    CHECK(fixture::has_fault(light_faults({}), "", "neither", "--at"));
    options.date.clear();
    options.zone.clear();
    CHECK(fixture::has_fault(light_faults(options), "--date", "is missing"));
    CHECK(fixture::has_fault(light_faults(options), "--zone", "is missing"));
}

TEST_CASE("the light of a shoot holds every location on every day") {
    const TemporaryFolder folder;
    folder.write("map.osm.pbf", "");
    const auto file = folder.write("shoot.json", fixture::sound_shoot().dump());
    const auto outcome = run_light_command({"light", file.string()});
    CHECK(contains(outcome.out, "# Arch (-35.21,-8.41)"));
    CHECK(contains(outcome.out, "# Pier"));
    CHECK(contains(outcome.out, "## Saturday 2027-05-15"));
}
