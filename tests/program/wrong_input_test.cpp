#include "run_program.hpp"

#include <doctest/doctest.h>

#include <filesystem>

namespace {

/// A good shoot on the island, with parts to be bent.
std::string shoot(const std::string& region, const std::string& location, const std::string& light = "\"day\"",
                  const std::string& date = "2027-09-10", const std::string& more = "") {
    return "{\"title\": \"T\", \"time_zone\": \"Atlantic/Azores\", \"region\": \"" + region +
           "\", \"base\": {\"name\": \"B\", \"at\": {\"lat\": 46.58105, \"lon\": -27.48415}}, \"days\": [{\"date\": "
           "\"" +
           date +
           "\", \"earliest_call\": \"06:00\", \"latest_wrap\": \"22:00\"}], \"locations\": [{\"id\": \"a\", \"name\": "
           "\"A\", \"at\": " +
           location +
           "}], \"scenes\": [{\"id\": \"s\", \"title\": \"S\", \"at\": \"a\", \"minutes\": 30, \"light\": " + light +
           "}]" + more + "}";
}

const std::string quarry = R"({"lat": 46.53922, "lon": -27.58155})";

void refused(const Run& run, int exit_code, const std::vector<std::string>& said) {
    CHECK(run.exit_code == exit_code);
    for (const std::string& part : said) {
        INFO(run.err);
        CHECK(run.err.find(part) != std::string::npos);
    }
    CHECK(run.err.find("terminate") == std::string::npos);
}

} // namespace

TEST_CASE("wrong input ends with code 2 and a message that names file, field, value and mend; nothing is written") {
    const Folder folder;
    const std::string map = (island() / "ondrel.osm.pbf").string();
    const auto plan = [&](const std::string& file) { return run_program({"plan", file, "-o", folder / "out"}); };
    SUBCASE("no such shoot file") {
        refused(plan(folder / "none.json"), 2, {"none.json", "not"});
    }
    SUBCASE("JSON syntax, with its line") {
        refused(plan(folder.write("bad.json", "{\n  \"title\": \"T\",\n  oops\n}")), 2, {"bad.json", "line 3"});
    }
    SUBCASE("unknown key, with the nearest known") {
        refused(plan(folder.write("s.json", shoot(map, quarry, "\"day\"", "2027-09-10", ", \"scense\": []"))), 2,
                {"s.json", "/scense", "scenes"});
    }
    SUBCASE("unknown location") {
        std::string text = shoot(map, quarry);
        text.replace(text.find("\"at\": \"a\""), 9, "\"at\": \"b\"");
        refused(plan(folder.write("s.json", text)), 2, {"s.json", "/scenes/0/at", "\"b\""});
    }
    SUBCASE("a tile that is none") {
        folder.write("N46W028.hgt", "no heights");
        std::string text = shoot(map, quarry);
        text.replace(text.find("\"region\""), 8, "\"terrain\": [\"N46W028.hgt\"], \"region\"");
        refused(plan(folder.write("s.json", text)), 2, {"N46W028.hgt"});
    }
    SUBCASE("impossible date") {
        refused(plan(folder.write("s.json", shoot(map, quarry, "\"day\"", "2027-02-30"))), 2,
                {"/days/0/date", "2027-02-30"});
    }
    SUBCASE("several faults at once") {
        refused(plan(folder.write("s.json", shoot(map, "{\"lat\": 146, \"lon\": -27}", "\"dusky\"", "2027-13-01"))), 2,
                {"/days/0/date", "/locations/0/at", "/scenes/0/light"});
    }
    SUBCASE("a location 40 km off the map") {
        refused(plan(folder.write("s.json", shoot(map, "{\"lat\": 46.95, \"lon\": -27.58}"))), 2,
                {"s.json", "/locations/0/at", "km from the nearest road"});
    }
    SUBCASE("latitude and longitude swapped") {
        refused(plan(folder.write("s.json", shoot(map, "{\"lat\": -27.58155, \"lon\": 46.53922}"))), 2,
                {"/locations/0/at", "swapped"});
    }
    SUBCASE("no such map") {
        refused(plan(folder.write("s.json", shoot("nowhere.osm.pbf", quarry))), 2, {"/region", "nowhere.osm.pbf"});
    }
    SUBCASE("a broken map") {
        const std::string bytes = read_file(map);
        folder.write("cut.osm.pbf", bytes.substr(0, bytes.size() / 2));
        refused(plan(folder.write("s.json", shoot("cut.osm.pbf", quarry))), 2, {"cut.osm.pbf"});
    }
    SUBCASE("an empty map") {
        folder.write("empty.osm", "<?xml version='1.0'?><osm version=\"0.6\"></osm>");
        refused(plan(folder.write("s.json", shoot("empty.osm", quarry))), 2, {"empty.osm"});
    }
    SUBCASE("a closure that matches nothing") {
        refused(plan(folder.write("s.json",
                                  shoot(map, quarry, "\"day\"", "2027-09-10",
                                        ", \"closures\": [{\"road\": \"Nowhere Road\", \"near\": " + quarry + "}]"))),
                2, {"/closures/0", "Nowhere Road", "nearest"});
    }
    SUBCASE("an output folder that is a file") {
        const std::string file = folder.write("out", "mine");
        refused(plan(folder.write("s.json", shoot(map, quarry))), 2, {"out"});
        CHECK(read_file(file) == "mine");
        return;
    }
    SUBCASE("wrong arguments") {
        refused(run_program({"plan"}), 2, {});
        refused(run_program({"plann", "x"}), 2, {});
        refused(run_program({"plan", "x", "--no-such-option"}), 2, {"no-such-option"});
    }
    CHECK(!std::filesystem::exists(folder / "out"));
}

TEST_CASE("a must whose window never opens gives the best partial plan, its reason and code 3") {
    const Folder folder;
    const std::string map = (island() / "ondrel.osm.pbf").string();
    const Run run = run_program(
        {"plan", folder.write("s.json", shoot(map, quarry, "{\"sun_altitude\": [80, 90]}")), "-o", folder / "out"});
    CHECK(run.exit_code == 3);
    CHECK(run.out.find("never comes at A on 2027-09-10") != std::string::npos);
    CHECK(std::filesystem::exists(folder / "out/plan.json"));
}

TEST_CASE("existing output is replaced only with --overwrite, all files or none") {
    const Folder folder;
    const std::string map = (island() / "ondrel.osm.pbf").string();
    const std::string file = folder.write("s.json", shoot(map, quarry));
    std::filesystem::create_directory(folder / "out");
    folder.write("out/plan.json", "mine");
    const Run refusal = run_program({"plan", file, "-o", folder / "out"});
    refused(refusal, 2, {"plan.json", "--overwrite"});
    CHECK(read_file(folder / "out/plan.json") == "mine");
    CHECK(!std::filesystem::exists(folder / "out/itinerary.md"));
    CHECK(run_program({"plan", file, "-o", folder / "out", "--overwrite"}).exit_code == 0);
    CHECK(read_file(folder / "out/plan.json") != "mine");
}
