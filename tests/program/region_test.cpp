#include "run_program.hpp"

#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>

namespace fs = std::filesystem;

namespace {

std::string copied_map(const Folder& folder) {
    fs::copy_file(island() / "ondrel.osm.pbf", folder / "ondrel.osm.pbf");
    return folder / "ondrel.osm.pbf";
}

} // namespace

TEST_CASE("region prepare writes the file once, and region info tells the same from it as from the extract") {
    const Folder folder;
    const std::string map = copied_map(folder);
    const Run first = run_program({"region", "prepare", map});
    INFO(first.err);
    REQUIRE(first.exit_code == 0);
    const std::string prepared = first.out.substr(0, first.out.size() - 1);
    REQUIRE(fs::exists(prepared));
    CHECK(first.err.find("prepared file: made ") != std::string::npos);
    CHECK(run_program({"region", "prepare", map}).err.find("prepared file: read ") != std::string::npos);

    const Run of_map = run_program({"region", "info", map, "--doubts"});
    const Run of_file = run_program({"region", "info", prepared, "--doubts"});
    CHECK(of_map.exit_code == 0);
    CHECK(of_file.exit_code == 0);
    for (const char* told :
         {"strong components: ", "box: ", "date of the data: ", "network for the van: ", "ways the van may use"}) {
        const auto at = of_map.out.find(told);
        INFO(told);
        REQUIRE(at != std::string::npos);
        CHECK(of_file.out.find(of_map.out.substr(at, of_map.out.find('\n', at) - at)) != std::string::npos);
    }
    CHECK(of_file.out.find("section network: ") != std::string::npos);
}

TEST_CASE("a damaged prepared file is named by region info and made again by region prepare") {
    const Folder folder;
    const std::string map = copied_map(folder);
    const std::string out = run_program({"region", "prepare", map}).out;
    const std::string prepared = out.substr(0, out.size() - 1);
    fs::resize_file(prepared, 9000);
    const Run info = run_program({"region", "info", prepared});
    CHECK(info.exit_code == 2);
    CHECK(info.err.find("is cut short; make it again: dayweave region prepare EXTRACT") != std::string::npos);
    CHECK(run_program({"region", "prepare", map}).err.find("what was there is cut short") != std::string::npos);
    CHECK(run_program({"region", "info", prepared}).exit_code == 0);
}

TEST_CASE("region prepare refuses where the file can't be written, with a mend") {
    const Folder folder;
    const std::string map = copied_map(folder);
    const std::string out = run_program({"region", "prepare", map}).out;
    const std::string prepared = out.substr(0, out.size() - 1);
    fs::remove(prepared);
    fs::create_directory(prepared);
    const Run run = run_program({"region", "prepare", map});
    CHECK(run.exit_code == 2);
    CHECK(run.err.find("copy the extract to a folder you may write to") != std::string::npos);
    CHECK(run_program({"region", "prepare", folder / "none.osm.pbf"}).exit_code == 2);
}

TEST_CASE("plan makes the prepared file, uses it the next time, and writes the same documents with and without it") {
    const Folder folder;
    copied_map(folder);
    fs::copy_file(island() / "one_day.json", folder / "one_day.json");
    fs::copy_file(island() / "N46W028.hgt", folder / "N46W028.hgt");
    const std::string shoot = folder / "one_day.json";
    const Run made = run_program_as_given({"plan", shoot, "-o", folder / "made"});
    const Run used = run_program_as_given({"plan", shoot, "-o", folder / "used"});
    const Run without = run_program_as_given({"plan", shoot, "-o", folder / "without", "--no-prepared"});
    CHECK(made.err.find("prepared file: made ") != std::string::npos);
    CHECK(used.err.find("prepared file: read ") != std::string::npos);
    CHECK(without.err.find("prepared file") == std::string::npos);
    CHECK_FALSE(fs::is_empty(fs::path(folder / "ondrel.osm.pbf.horizons")));
    for (const char* document : {"/plan.json", "/itinerary.md", "/route.geojson"}) {
        CAPTURE(document);
        const std::string expected = read_file(folder / "without" + document);
        CHECK(!expected.empty());
        CHECK(read_file(folder / "made" + document) == expected);
        CHECK(read_file(folder / "used" + document) == expected);
    }
}
