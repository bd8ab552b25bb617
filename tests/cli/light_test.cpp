#include "shoot_fixture.hpp"

#include "cli/command_light.hpp"
#include "cli/light_day.hpp"
#include "cli/write_light.hpp"
#include "geo/sky/sun.hpp"

#include <CLI/CLI.hpp>
#include <doctest/doctest.h>

#include <iostream>
#include <limits>
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
    CHECK(light.rows.size() == cli::listed_lights(false).size());
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
    const auto limits = [](geo::LightName name) { return cli::limits_text({name, geo::sun_range(name), {}}); };
    CHECK(limits(geo::LightName::dark_sky) == "below -18°, moon down or at most 10% lit");
    CHECK(limits(geo::LightName::moonlight) == "below -12°, moon up, 50% to 100% lit");
    CHECK(limits(geo::LightName::night) == "below -18°");
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
    CHECK(day["lights"].size() == cli::listed_lights(false).size());
    for (const Json& light : day["lights"]) {
        CHECK((light["presence"] == "never") == light["windows"].empty());
        if (light["name"] == "golden-evening") {
            CHECK(light["sun_altitude"] == Json{-4.0, 6.0});
            CHECK(light["when"] == "evening");
            REQUIRE(light["windows"].size() == 1);
            // Best from 3 degrees down to the horizon (docs/light.md), so at its first minute there.
            const auto best =
                *geo::parse_instant(light["windows"][0]["best"]["at"].get<std::string>(), *geo::find_time_zone("UTC"));
            const auto sun = geo::sky::sun_position({{-35.2}, {-8.1}}, geo::Metres{0.0}, best);
            CHECK(light["windows"][0]["best"]["quality"] == 1.0);
            CHECK(sun.altitude.value <= 3.0);
            CHECK(sun.altitude.value > 2.7);
        }
    }
}

TEST_CASE("every wrong option of light is told at once") {
    cli::LightOptions options;
    options.at = "35";
    options.date = "2027-02-30";
    options.zone = "Atlantic/Azors";
    options.facing = std::numeric_limits<double>::quiet_NaN();
    const auto faults = light_faults(options);
    CAPTURE(fixture::all_faults(faults));
    CHECK(faults.size() == 4);
    CHECK(fixture::has_fault(faults, "--facing", "is no direction", "0 to 360"));
    CHECK(fixture::has_fault(faults, "--at", "is no position", "LAT,LON"));
    CHECK(fixture::has_fault(faults, "--date", "is not a date", "YYYY-MM-DD"));
    CHECK(fixture::has_fault(faults, "--zone", "is no time zone", "Atlantic/Azores"));
    CHECK(fixture::has_fault(light_faults({}), "", "neither", "--at"));
    options.date.clear();
    options.zone.clear();
    CHECK(fixture::has_fault(light_faults(options), "--date", "is missing"));
    CHECK(fixture::has_fault(light_faults(options), "--zone", "is missing"));
}

TEST_CASE("a window's best minute is one of those printed for it") {
    const auto zone = *geo::find_time_zone("Atlantic/Azores");
    const auto at = [&](const char* text) { return *geo::parse_instant(text, zone); };
    const geo::Interval window{at("2027-05-14T06:53:10"), at("2027-05-14T07:20:40")};
    const auto day = *geo::parse_date("2027-05-14");
    CHECK(cli::best_text(window.from, window, day, zone) == "06:54");
    CHECK(cli::best_text(at("2027-05-14T07:00:01"), window, day, zone) == "07:01");
    CHECK(cli::best_text(at("2027-05-14T07:20:10"), window, day, zone) == "07:20");
    // Every minute alike: none is told.
    CHECK_FALSE(cli::best_minute_of({.name = geo::LightName::day}, {{-35.2}, {-8.1}},
                                    {at("2027-05-14T10:00"), at("2027-05-14T11:00")}));
}

TEST_CASE("options of light that do not go together are told") {
    cli::LightOptions options;
    options.at = "-35.2,-8.1";
    options.date = "2027-05-14";
    options.zone = "Atlantic/Azores";
    options.lens = 50.0;
    CHECK(fixture::has_fault(light_faults(options), "--lens", "looks nowhere", "--facing"));
    options.lens = std::numeric_limits<double>::quiet_NaN();
    CHECK(fixture::has_fault(light_faults(options), "--lens", "is no focal length", "4 to 2000"));
    options.lens.reset();
    options.days = 61;
    CHECK(fixture::has_fault(light_faults(options), "--days", "are too many days to print", "1 to 60"));
    options.find = "open-shade";
    CHECK(fixture::has_fault(light_faults(options), "--find", "needs the ground's own horizon", "--terrain"));
    options.find = "";
    CHECK(fixture::has_fault(light_faults(options), "--find", "says nothing"));
    CHECK(run_light_command({"light", "x.json", "--lens", "50"}).parse_code != 0);
    CHECK(run_light_command({"light", "x.json", "--overwrite"}).parse_code != 0);

    const TemporaryFolder folder;
    folder.write("map.osm.pbf", "");
    cli::LightOptions of_shoot;
    of_shoot.shoot = folder.write("shoot.json", fixture::sound_shoot().dump()).string();
    of_shoot.days = 2;
    CHECK(fixture::has_fault(light_faults(of_shoot), "--date", "is missing", "first of the days"));
    of_shoot.date = "2027-13-01";
    CHECK(fixture::has_fault(light_faults(of_shoot), "--date", "is not a date"));
}

TEST_CASE("a shoot's places can be looked at on other days than its own") {
    const TemporaryFolder folder;
    folder.write("map.osm.pbf", "");
    auto shoot = fixture::sound_shoot();
    shoot["locations"][0]["facing_deg"] = 290;
    shoot["scenes"][0]["light"] = Json{{"name", "golden-evening"}, {"sun", "in-frame"}, {"lens", {{"focal_mm", 35}}}};
    const auto file = folder.write("shoot.json", shoot.dump()).string();
    const auto outcome =
        run_light_command({"light", file, "--date", "2027-01-01", "--days", "300", "--find",
                           "sunset at bearing 292..292.5", "--pictures", (folder.path() / "drawn").string()});
    CHECK(outcome.code == cli::ExitCode::done);
    CHECK(contains(outcome.out, "# Arch (-35.21,-8.41): sunset at bearing 292..292.5"));
    CHECK(contains(outcome.out, "| Friday 2027-05-14"));
    CHECK(contains(outcome.out, "of 300 days."));
    std::ifstream picture(folder.path() / "drawn" / "arch-2027-05-14.svg");
    const std::string svg{std::istreambuf_iterator<char>(picture), {}};
    CHECK(contains(svg, "camera, lens 35 mm"));
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

TEST_CASE("the moon of the day is told, with what it does not do") {
    const auto zone = *geo::find_time_zone("Europe/Madrid");
    const auto light = [&](const char* day) {
        return cli::light_of_day({{40.42}, {-3.7}}, *geo::parse_date(day), zone);
    };
    // 26 January 2019: no moonrise that civil day; last quarter on the 27th.
    const auto without = light("2019-01-26");
    const std::string text = cli::light_tables({{"", "Madrid", {{40.42}, {-3.7}}, {without}}}, zone);
    CAPTURE(text);
    REQUIRE(without.moon.moments.size() == 1);
    CHECK(without.moon.moments[0].name == "moonset");
    CHECK(without.moon.up);
    CHECK(contains(text, "no moonrise this day."));
    CHECK(contains(text, "Moon: waning gibbous, "));
    // US Naval Observatory: full moon 2019-01-21 05:16 UTC.
    const auto full = light("2019-01-20");
    CHECK(full.moon.phase == "full moon");
    CHECK(full.moon.lit > 0.99);
    // Near the pole: all day, in words.
    const auto pole =
        cli::light_of_days({{85.0}, {0.0}}, *geo::parse_date("2026-02-01"), 28, *geo::find_time_zone("UTC"));
    const std::string polar = cli::light_tables({{"", "North", {{85.0}, {0.0}}, pole}}, *geo::find_time_zone("UTC"));
    CHECK(contains(polar, "% lit at midnight; up all day."));
    CHECK(contains(polar, "% lit at midnight; down all day."));
}

TEST_CASE("the sun's bearing is told beside the camera's") {
    CHECK(cli::beside_camera_text({241}, {253}) == "12° left of the camera");
    CHECK(cli::beside_camera_text({5}, {355}) == "10° right of the camera");
    CHECK(cli::beside_camera_text({5.2}, {5}) == "ahead of the camera");
    CHECK(cli::beside_camera_text({185.2}, {5}) == "behind the camera");
    const auto outcome = run_light_command(
        {"light", "--at", "47,9.5", "--date", "2026-09-04", "--zone", "Europe/Vaduz", "--facing", "290"});
    // cos(azimuth) = sin(declination 7.2) / cos(latitude) gives 280.5, and refraction carries the sun a degree farther.
    CHECK(contains(outcome.out, "Sun sets at bearing 281°, 9° left of the camera."));
    CHECK(contains(outcome.out, "Sun rises at bearing "));
}

TEST_CASE("light as CSV holds the same windows, one a line") {
    const std::vector<std::string> asked{"light",           "--at",   "-35.2,-8.1", "--date", "2027-05-14", "--zone",
                                         "Atlantic/Azores", "--days", "2"};
    auto as_csv = asked;
    as_csv.emplace_back("--csv");
    auto as_json = asked;
    as_json.emplace_back("--json");
    const std::string csv = run_light_command(as_csv).out;
    CHECK(csv.starts_with("place,lat,lon,date,kind,name,presence,from,until,altitude_deg,azimuth_deg\r\n"));
    const Json told = Json::parse(run_light_command(as_json).out);
    for (const Json& day : told["places"][0]["days"]) {
        const std::string date = day["date"];
        for (const Json& light : day["lights"]) {
            const std::string head =
                "Light,-35.200000,-8.100000," + date + ",light," + std::string(light["name"]) + ",";
            if (light["windows"].empty())
                CHECK(contains(csv, head + "never,,,,\r\n"));
            for (const Json& window : light["windows"])
                CHECK(contains(csv, head + std::string(light["presence"]) + "," + std::string(window["from"]) + "," +
                                        std::string(window["until"]) + ",,\r\n"));
        }
        for (const Json& moment : day["moon"]["moments"])
            CHECK(contains(csv, "," + date + ",moon," + std::string(moment["name"]) + ",some," +
                                    std::string(moment["at"]) + ","));
        CHECK(day["moon"]["lit"].is_number());
    }
    CHECK(run_light_command({"light", "x.json", "--csv", "--json"}).parse_code != 0);
    // A name with a comma is quoted.
    const auto zone = *geo::find_time_zone("UTC");
    const auto light = cli::light_of_day({{47.0}, {9.5}}, *geo::parse_date("2026-09-04"), zone);
    CHECK(contains(cli::light_csv({{"", "Arch, \"north\"", {{47.0}, {9.5}}, {light}}}, zone),
                   "\"Arch, \"\"north\"\"\",47.000000,9.500000,2026-09-04,"));
}
