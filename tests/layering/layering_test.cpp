#include "tests/layering/house_rules.hpp"

#include <doctest/doctest.h>

#include <cstdlib>
#include <fstream>

using house::check;
using house::Fault;
using house::Tree;

namespace {

/// The problems of a tree of one file.
std::vector<Fault> faults_of(const std::string& file, const std::string& text) {
    return check(Tree{.top_level = {}, .files = {{file, text}}});
}

bool may_include(const std::string& file, const std::string& header) {
    return faults_of(file, "#include \"" + header + "\"\n").empty();
}

} // namespace

TEST_CASE("this checkout keeps the rules of the house") {
    const Tree tree = house::read_tree(DAYWEAVE_SOURCE_DIR);
    REQUIRE_MESSAGE(tree.files.contains("geo/units.hpp"), "the tree was read");
    REQUIRE(tree.files.contains("tests/layering/layering_test.cpp"));
    for (const Fault& fault : check(tree))
        FAIL_CHECK(fault.file << ": " << fault.problem);
}

TEST_CASE("dependencies point down: cli to routing to geo") {
    CHECK(may_include("cli/command_plan.cpp", "routing/shoot/planner.hpp"));
    CHECK(may_include("cli/command_plan.cpp", "geo/units.hpp"));
    CHECK(may_include("routing/shoot/planner.cpp", "geo/units.hpp"));
    CHECK_FALSE(may_include("routing/shoot/planner.cpp", "cli/read_shoot.hpp"));
    CHECK_FALSE(may_include("geo/units.hpp", "routing/roads/network.hpp"));
    CHECK_FALSE(may_include("geo/sky/sun.cpp", "cli/read_shoot.hpp"));
    CHECK(may_include("geo/sky/sun.cpp", "geo/units.hpp"));
}

TEST_CASE("inside routing shoot sees the others, and they see geo and the map's values only") {
    CHECK(may_include("routing/shoot/planner.cpp", "routing/order/solve.hpp"));
    CHECK(may_include("routing/shoot/region.hpp", "routing/places/place.hpp"));
    CHECK(may_include("routing/shoot/region.hpp", "routing/roads/network.hpp"));
    CHECK(may_include("routing/places/place.hpp", "routing/roads/osm_extract.hpp"));
    CHECK_FALSE(may_include("routing/places/place.hpp", "routing/roads/network.hpp"));
    CHECK_FALSE(may_include("routing/places/place.hpp", "routing/shoot/shoot.hpp"));
    CHECK_FALSE(may_include("routing/roads/snap.cpp", "routing/places/place.hpp"));
    CHECK_FALSE(may_include("routing/roads/snap.cpp", "routing/shoot/shoot.hpp"));
    for (const char* header : {"routing/roads/osm_extract.hpp", "routing/places/place.hpp", "routing/shoot/shoot.hpp"})
        CHECK_FALSE(may_include("routing/order/solve.cpp", header));
    CHECK(may_include("routing/order/solve.cpp", "geo/interval.hpp"));
    CHECK_FALSE(may_include("routing/order/solve.cpp", "routing/elsewhere/solve.hpp"));
}

TEST_CASE("opening hours know the sky only, and roads, places and shoot may ask them") {
    CHECK(may_include("routing/hours/rule_times.cpp", "geo/sky/sun_events.hpp"));
    for (const char* user :
         {"routing/roads/conditional.cpp", "routing/places/place.hpp", "routing/shoot/planner.cpp"}) {
        CHECK(may_include(user, "routing/hours/hours.hpp"));
        CHECK_FALSE(may_include("routing/hours/hours.cpp", user));
    }
    CHECK_FALSE(may_include("routing/order/solve.cpp", "routing/hours/hours.hpp"));
    CHECK_FALSE(may_include("routing/hours/hours.hpp", "routing/roads/osm_extract.hpp"));
    CHECK(faults_of("routing/places/CMakeLists.txt", "target_link_libraries(dayweave_places PUBLIC dayweave_hours)\n")
              .empty());
    CHECK(faults_of("routing/order/CMakeLists.txt", "target_link_libraries(dayweave_order PUBLIC dayweave_hours)\n")
              .size() == 1);
}

TEST_CASE("nothing includes the tests, the tests include anything") {
    CHECK_FALSE(may_include("geo/units.hpp", "tests/support/near.hpp"));
    CHECK_FALSE(may_include("cli/main.cpp", "tests/support/near.hpp"));
    CHECK(may_include("tests/cli/plan_test.cpp", "cli/read_shoot.hpp"));
    CHECK(may_include("tests/cli/plan_test.cpp", "tests/support/near.hpp"));
    CHECK_MESSAGE(may_include("tests/cli/plan_test.cpp", "fixture.hpp"), "a file beside it");
    CHECK_FALSE(may_include("tests/cli/plan_test.cpp", "../support/near.hpp"));
}

TEST_CASE("no way of writing an include slips through") {
    CHECK(faults_of("geo/a.cpp", "  #  include \"routing/shoot/shoot.hpp\"  // why\n").size() == 1);
    CHECK(faults_of("geo/a.cpp", "#include <routing/shoot/shoot.hpp>\n").size() == 1);
    CHECK(faults_of("geo/a.cpp", "#include \"../routing/shoot/shoot.hpp\"\n").size() == 1);
    CHECK(faults_of("geo/a.cpp", "#include \"units.hpp\"\n").size() == 1);
    CHECK(faults_of("geo/a.cpp", "// #include \"routing/shoot/shoot.hpp\"\n#include <vector>\n").empty());
}

TEST_CASE("a package stays in its folders") {
    const auto accepts = [](const std::string& file, const std::string& header) {
        return faults_of(file, "#include <" + header + ">\n").empty();
    };
    CHECK(accepts("routing/roads/read_extract.cpp", "osmium/io/reader.hpp"));
    CHECK_FALSE(accepts("routing/places/find_places.cpp", "osmium/io/reader.hpp"));
    CHECK_FALSE(accepts("cli/main.cpp", "osmium/io/reader.hpp"));
    CHECK_FALSE(accepts("routing/order/solve.cpp", "nlohmann/json.hpp"));
    CHECK_FALSE(accepts("routing/shoot/planner.cpp", "CLI/CLI.hpp"));
    CHECK(accepts("cli/main.cpp", "CLI/CLI.hpp"));
    CHECK_MESSAGE(!accepts("geo/geojson.cpp", "iostream"), "geo and routing never print");
    CHECK_FALSE(accepts("routing/shoot/planner.cpp", "iostream"));
    CHECK(accepts("cli/main.cpp", "iostream"));
}

TEST_CASE("a library is not linked where its headers may not be included") {
    CHECK(faults_of("routing/places/CMakeLists.txt", "target_link_libraries(dayweave_places PUBLIC dayweave_geo "
                                                     "dayweave_roads dayweave_settings)\n")
              .empty());
    CHECK(faults_of("routing/order/CMakeLists.txt", "target_link_libraries(dayweave_order PUBLIC dayweave_roads)\n")
              .size() == 1);
    CHECK(faults_of("geo/CMakeLists.txt", "target_link_libraries(dayweave_geo PUBLIC dayweave_cli)\n").size() == 1);
    CHECK_MESSAGE(faults_of("routing/order/CMakeLists.txt", "dayweave_roads_like my_dayweave_roads\n").empty(),
                  "whole words only");
    CHECK(faults_of("cli/CMakeLists.txt", "target_link_libraries(dayweave PRIVATE dayweave_shoot dayweave_cli)\n")
              .empty());
}

TEST_CASE("code in an unknown folder, an unagreed name at the top and a file over 500 lines are faults") {
    CHECK(faults_of("helpers/a.cpp", "").size() == 1);
    CHECK(faults_of("routing/a.cpp", "").size() == 1);
    CHECK(check(Tree{.top_level = {".git", "build", "geo", "out", "src", "tests"}, .files = {}}).size() == 1);
    std::string lines;
    for (int i = 0; i < 500; ++i)
        lines += "//\n";
    CHECK(faults_of("geo/a.cpp", lines).empty());
    CHECK(faults_of("geo/a.cpp", lines + "//").size() == 1);
    CHECK(faults_of("docs/a.md", lines + "//\n").size() == 1);
}

TEST_CASE("a broken checkout on disk is read and each of its faults named") {
    namespace fs = std::filesystem;
    std::string name = (fs::temp_directory_path() / "house_rules_XXXXXX").string();
    REQUIRE(mkdtemp(name.data()) != nullptr);
    const fs::path folder = name;
    for (const char* part : {"geo/sky", "routing/order", "build/geo", ".git"})
        fs::create_directories(folder / part);
    std::ofstream(folder / "geo/sky/sun.cpp") << "#include \"geo/units.hpp\"\n#include \"cli/read_shoot.hpp\"\n";
    std::ofstream(folder / "routing/order/solve.cpp") << "#include \"routing/roads/network.hpp\"\n";
    std::ofstream(folder / "build/geo/made.cpp") << "#include \"cli/read_shoot.hpp\"\n";
    std::ofstream(folder / "notes.txt") << "to do\n";
    const auto faults = check(house::read_tree(folder));
    fs::remove_all(folder);
    REQUIRE(faults.size() == 3);
    CHECK(faults[0].file == "geo/sky/sun.cpp:2");
    CHECK(faults[0].problem == "geo may not include \"cli/read_shoot.hpp\"");
    CHECK(faults[1].file == "notes.txt");
    CHECK(faults[2].file == "routing/order/solve.cpp:1");
    CHECK(faults[2].problem == "routing/order may not include \"routing/roads/network.hpp\"");
}
