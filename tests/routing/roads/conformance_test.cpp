// The public OSM test files: each loads as its makers say, or is refused with a message.
// Sources: repositories osmcode/osm-testdata and osmcode/libosmium (test/t/io).

#include "tests/routing/roads/map_text.hpp"

#include "geo/input_error.hpp"
#include "tests/support/shared_data.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <map>

using namespace roads_test;

namespace {

roads::OsmExtract read(const std::filesystem::path& file) {
    return roads::read_extract(file, [](const roads::Tags& tags) { return tags.has("amenity"); });
}

/// What loading gives: "loads", or the problem.
std::string outcome(const std::filesystem::path& file) {
    try {
        const auto extract = read(file);
        roads::build_network(extract, {});
        return "loads";
    } catch (const geo::InputError& error) {
        return error.faults().at(0).problem;
    }
}

std::string first_word(const std::filesystem::path& file) {
    std::string word;
    std::ifstream{file} >> word;
    return word;
}

} // namespace

TEST_CASE("valid XML test files load, invalid ones are refused") {
    const auto folder = support::shared_data("osm_conformance/osm-testdata/xml/data");
    if (!folder)
        return;
    // Read as told, but of no use to us: no nodes in them, or a change file.
    const std::vector<std::string> valid_but_refused{"100-correct_but_no_data", "120-correct_gzip_file_without_data",
                                                     "300-change-file"};
    // Meant to be refused; libosmium passes over elements it does not know between nodes, ways and relations.
    const std::string invalid_but_read = "109-unknown_data_level";
    int cases = 0;
    for (const auto& entry : std::filesystem::directory_iterator{*folder}) {
        const std::string name = entry.path().filename().string();
        CAPTURE(name);
        for (const auto& file : std::filesystem::directory_iterator{entry.path()}) {
            if (!file.path().filename().string().starts_with("data."))
                continue;
            ++cases;
            const std::string result = outcome(file.path());
            CAPTURE(result);
            const bool valid = first_word(entry.path() / "result") == "valid";
            const bool of_no_use =
                std::find(valid_but_refused.begin(), valid_but_refused.end(), name) != valid_but_refused.end();
            CHECK((result == "loads") == ((valid && !of_no_use) || name == invalid_but_read));
        }
    }
    CHECK(cases == 25);
}

TEST_CASE("geometry and attribute test cases load, valid or not") {
    const auto folder = support::shared_data("osm_conformance/osm-testdata/grid/data");
    if (!folder)
        return;
    int cases = 0;
    for (const auto& entry : std::filesystem::recursive_directory_iterator{*folder}) {
        if (entry.path().filename() != "data.osm")
            continue;
        ++cases;
        const std::string where = entry.path().parent_path().filename().string();
        CAPTURE(where);
        const std::string result = outcome(entry.path());
        CAPTURE(result);
        // "valid" must load; of invalid ones only a way without any node in the file is refused, for lack of nodes.
        if (first_word(entry.path().parent_path() / "result") == "valid")
            CHECK(result == "loads");
        else
            CHECK((result == "loads" || result == "holds no nodes" || result.find("broken") != std::string::npos));
    }
    CHECK(cases >= 25);
}

TEST_CASE("the reading library's own small files give what they are made for") {
    const auto folder = support::shared_data("osm_conformance/libosmium-io");
    if (!folder)
        return;
    const std::map<std::string, std::string> expected{
        {"data.osm", "loads"},
        {"data.osm.gz", "loads"},
        {"data.osm.bz2", "loads"},
        {"data-n5w1r3.osm", "loads"},
        {"data-n5w0r3.osm", "loads"},
        {"data-n5w1r0.osm", "loads"},
        {"data-n0w1r3.osm", "holds no nodes"},
        {"data_pbf_version-1.osm", "loads"},
        {"data_pbf_version-1.osm.pbf", "loads"},
        {"data_pbf_version-1-densenodes.osm.pbf", "loads"},
        {"deleted_nodes.osh", "loads"},
        {"deleted_nodes.osh.pbf", "loads"},
        {"relations-data.osm", "loads"},
        {"relations-dupl_member.osm", "loads"},
        {"relations-missing_members.osm", "loads"},
        {"corrupt_data_gzip.txt.gz", "has an unknown ending"},
        {"data-n5w1r3.osm.o5m", "has an unknown ending"},
        {"data.opl", "has an unknown ending"},
    };
    for (const auto& [name, result] : expected) {
        CAPTURE(name);
        CHECK(outcome(*folder / name) == result);
    }
}

TEST_CASE("damaged gzip and bzip2 streams are refused") {
    for (const auto& [name, suffix] :
         {std::pair{"corrupt_data_gzip.txt.gz", ".osm.gz"}, std::pair{"corrupt_data_bzip2.txt.bz2", ".osm.bz2"}}) {
        const auto file = support::shared_data(std::string{"osm_conformance/libosmium-io/"} + name);
        if (!file)
            return;
        const TemporaryFile copy{suffix, file_content(*file)};
        CHECK(outcome(copy.path()).find("broken") != std::string::npos);
    }
}

TEST_CASE("deleted nodes of history files are left out in XML and in PBF") {
    for (const char* name : {"deleted_nodes.osh", "deleted_nodes.osh.pbf"}) {
        const auto file = support::shared_data(std::string{"osm_conformance/libosmium-io/"} + name);
        if (!file)
            return;
        const auto extract = read(*file);
        CHECK(extract.counts.nodes == 2);
        CHECK(extract.counts.invalid_locations == 0);
    }
}

TEST_CASE("zlib and lz4 blocks of one map give the same extract and network") {
    const auto zlib = support::shared_data("osm_conformance/monaco-2021-04-21-zlib.osm.pbf");
    const auto lz4 = support::shared_data("osm_conformance/monaco-2021-04-21-lz4.osm.pbf");
    if (!zlib || !lz4)
        return;
    const auto a = read(*zlib);
    const auto b = read(*lz4);
    CHECK(a.node_ids == b.node_ids);
    CHECK(a.node_places == b.node_places);
    REQUIRE(a.roads.size() == b.roads.size());
    CHECK(a.roads.size() > 2000);
    for (std::size_t i = 0; i < a.roads.size(); ++i) {
        CHECK(a.roads[i].id == b.roads[i].id);
        CHECK(a.roads[i].nodes == b.roads[i].nodes);
        CHECK(a.roads[i].tags.all() == b.roads[i].tags.all());
    }
    REQUIRE(a.features.size() == b.features.size());
    for (std::size_t i = 0; i < a.features.size(); ++i) {
        CHECK(a.features[i].object == b.features[i].object);
        CHECK(a.features[i].at == b.features[i].at);
    }
    const auto one = roads::build_network(a, {});
    const auto other = roads::build_network(b, {});
    CHECK(one.node_osm == other.node_osm);
    CHECK(one.first_arc == other.first_arc);
    CHECK(one.counts == other.counts);
}

TEST_CASE("a file without versions or dates loads, and its impossible date is not believed") {
    const auto file = support::shared_data("osm_conformance/monaco-nometa-badtimestamp.osm.pbf");
    if (!file)
        return;
    const auto extract = read(*file);
    CHECK(extract.data_date.empty());
    CHECK(extract.counts.road_ways > 1000);
    CHECK(extract.counts.repeated_objects == 0);
}
