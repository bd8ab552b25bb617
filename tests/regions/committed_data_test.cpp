#include "regions/island.hpp"
#include "tests/regions/extract_reading.hpp"

#include <doctest/doctest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>

#include <unistd.h>

using namespace regions_test;

namespace {

const std::filesystem::path folder = std::filesystem::path(DAYWEAVE_SOURCE_DIR) / "regions" / "ondrel";

const regions::Island& island() {
    static const regions::Island made = regions::make_island();
    return made;
}

std::vector<int> read_tile(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(in), {}};
    std::vector<int> heights;
    for (std::size_t i = 0; i + 1 < bytes.size(); i += 2)
        heights.push_back(static_cast<std::int16_t>((static_cast<unsigned char>(bytes[i]) << 8) |
                                                    static_cast<unsigned char>(bytes[i + 1])));
    return heights;
}

/// One folder a process, gone with the test.
struct ScratchFolder {
    std::filesystem::path path =
        std::filesystem::temp_directory_path() / ("dayweave_regions_" + std::to_string(getpid()));
    ScratchFolder() { std::filesystem::create_directories(path); }
    ~ScratchFolder() { std::filesystem::remove_all(path); }
};

} // namespace

TEST_CASE("the generator draws the committed extract again, object by object") {
    const ScratchFolder scratch;
    regions::write_extract(island(), scratch.path / "again.osm.pbf");
    const Map again = read_map(scratch.path / "again.osm.pbf");
    const Map committed = read_map(folder / "ondrel.osm.pbf");

    REQUIRE(again.nodes.size() == committed.nodes.size());
    REQUIRE(again.ways.size() == committed.ways.size());
    REQUIRE(again.relations.size() == committed.relations.size());
    CHECK(again.nodes.size() > 5000);
    std::size_t differing = 0;
    for (const auto& [id, node] : committed.nodes) {
        const auto found = again.nodes.find(id);
        const bool same = found != again.nodes.end() && found->second.tags == node.tags &&
                          std::abs(found->second.at.latitude - node.at.latitude) <= 1 &&
                          std::abs(found->second.at.longitude - node.at.longitude) <= 1;
        differing += same ? 0 : 1;
    }
    for (const auto& [id, way] : committed.ways) {
        const auto found = again.ways.find(id);
        differing +=
            found != again.ways.end() && found->second.tags == way.tags && found->second.nodes == way.nodes ? 0 : 1;
    }
    for (const auto& [id, relation] : committed.relations) {
        const auto found = again.relations.find(id);
        differing += found != again.relations.end() && found->second.tags == relation.tags &&
                             found->second.members == relation.members
                         ? 0
                         : 1;
    }
    CHECK(differing == 0);
}

TEST_CASE("the committed elevation tile is the terrain within a metre") {
    const std::vector<int> committed = read_tile(folder / "N46W028.hgt");
    const std::vector<std::int16_t> again = regions::tile_heights(island().terrain);
    REQUIRE(committed.size() == std::size_t{1201} * 1201);
    REQUIRE(again.size() == committed.size());
    std::size_t differing = 0;
    int highest = 0;
    for (std::size_t i = 0; i < again.size(); ++i) {
        differing += std::abs(committed[i] - again[i]) <= 1 ? 0 : 1;
        highest = std::max(highest, committed[i]);
    }
    CHECK(differing == 0);
    CHECK(highest > 1000);
    CHECK(highest < 1300);
}

TEST_CASE("rows of the tile run from north to south and columns from west to east, high byte first") {
    // NASA SRTM "hgt" layout, from memory. The highest summit must be found where the map says it is.
    const std::vector<int> heights = read_tile(folder / "N46W028.hgt");
    const Map map = read_map(folder / "ondrel.osm.pbf");
    int peaks = 0;
    for (const auto& [id, node] : map.nodes) {
        if (!node.tags.contains("ele"))
            continue;
        const double latitude = static_cast<double>(node.at.latitude) * 1e-7;
        const double longitude = static_cast<double>(node.at.longitude) * 1e-7;
        const auto row = static_cast<std::size_t>((47.0 - latitude) * 1200.0 + 0.5);
        const auto column = static_cast<std::size_t>((longitude + 28.0) * 1200.0 + 0.5);
        CHECK_MESSAGE(std::abs(heights[row * 1201 + column] - std::atoi(node.tags.at("ele").c_str())) < 45,
                      node.tags.at("name"));
        ++peaks;
    }
    CHECK(peaks == 8);
}

TEST_CASE("no committed file of the region is large") {
    CHECK(std::filesystem::file_size(folder / "ondrel.osm.pbf") < 1'000'000);
    CHECK(std::filesystem::file_size(folder / "N46W028.hgt") == 2'884'802);
}

TEST_CASE("two islands made in one process are the same island") {
    const regions::Island other = regions::make_island();
    REQUIRE(other.map.nodes().size() == island().map.nodes().size());
    for (const auto& [id, node] : other.map.nodes())
        REQUIRE(node.at == island().map.node(id).at);
}
