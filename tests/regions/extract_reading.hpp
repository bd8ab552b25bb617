#pragma once
/// An extract as plain maps, read with libosmium alone, so that the generator is not judged by its own code.
///
///     const auto map = regions_test::read_map(DAYWEAVE_SOURCE_DIR "/regions/ondrel/ondrel.osm.pbf");

#include <cstdint>
#include <filesystem>
#include <map>
#include <string>
#include <tuple>
#include <vector>

namespace regions_test {

using TagMap = std::map<std::string, std::string>;

/// Units of 1e-7 degrees, as the format stores them.
struct Point {
    std::int64_t latitude = 0;
    std::int64_t longitude = 0;
    friend auto operator<=>(const Point&, const Point&) = default;
};

struct Node {
    Point at;
    TagMap tags;
};

struct Way {
    std::vector<std::int64_t> nodes;
    TagMap tags;
    std::string tag(const std::string& key) const {
        const auto found = tags.find(key);
        return found == tags.end() ? std::string{} : found->second;
    }
};

struct Relation {
    std::vector<std::tuple<char, std::int64_t, std::string>> members;
    TagMap tags;
};

struct Map {
    std::map<std::int64_t, Node> nodes;
    std::map<std::int64_t, Way> ways;
    std::map<std::int64_t, Relation> relations;
};

Map read_map(const std::filesystem::path& file);

/// Metres apart, flat; good to a few in a thousand on the island.
double metres_between(Point a, Point b);

/// Ways a 2.6 m van of 3.4 t may drive for sure, by a few strict rules; node -> nodes it leads to.
std::map<std::int64_t, std::vector<std::int64_t>> van_arcs(const Map& map);

} // namespace regions_test
