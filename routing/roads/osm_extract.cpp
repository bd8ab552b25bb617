#include "routing/roads/osm_extract.hpp"

#include "routing/roads/osm_file.hpp"
#include "routing/roads/osm_passes.hpp"

#include <algorithm>
#include <cmath>

namespace routing::roads {

std::optional<Box> box_around(const std::vector<geo::Coordinate>& places) {
    if (places.empty())
        return std::nullopt;
    double south = 90.0, north = -90.0, west = 180.0, east = -180.0, west_of_180 = 360.0, east_of_180 = 0.0;
    for (const geo::Coordinate place : places) {
        south = std::min(south, place.latitude.value);
        north = std::max(north, place.latitude.value);
        const double longitude = place.longitude.value;
        west = std::min(west, longitude);
        east = std::max(east, longitude);
        const double turned = longitude < 0.0 ? longitude + 360.0 : longitude;
        west_of_180 = std::min(west_of_180, turned);
        east_of_180 = std::max(east_of_180, turned);
    }
    if (east_of_180 - west_of_180 < east - west) {
        west = west_of_180 > 180.0 ? west_of_180 - 360.0 : west_of_180;
        east = east_of_180 > 180.0 ? east_of_180 - 360.0 : east_of_180;
    }
    return Box{{{south}, {west}}, {{north}, {east}}};
}

Tags::Tags(std::vector<std::pair<std::string, std::string>> pairs) : pairs_(std::move(pairs)) {
    const auto by_key = [](const auto& a, const auto& b) { return a.first < b.first; };
    const auto same_key = [](const auto& a, const auto& b) { return a.first == b.first; };
    std::stable_sort(pairs_.begin(), pairs_.end(), by_key);
    pairs_.erase(std::unique(pairs_.begin(), pairs_.end(), same_key), pairs_.end());
}

std::string_view Tags::operator[](std::string_view key) const {
    const auto found = std::lower_bound(pairs_.begin(), pairs_.end(), key,
                                        [](const auto& pair, std::string_view wanted) { return pair.first < wanted; });
    return found != pairs_.end() && found->first == key ? std::string_view{found->second} : std::string_view{};
}

std::optional<geo::Coordinate> OsmExtract::place_of(OsmId node) const {
    const auto found = std::lower_bound(node_ids.begin(), node_ids.end(), node);
    if (found == node_ids.end() || *found != node)
        return std::nullopt;
    return node_places[static_cast<std::size_t>(found - node_ids.begin())];
}

OsmExtract read_extract(const std::filesystem::path& path, const std::function<bool(const Tags&)>& wanted) {
    OsmFile file{path};
    OsmExtract extract;
    extract.file = path;
    extract.data_date = file.data_date();

    RelationPass relations = read_relations(file, wanted, extract.counts);
    WayPass ways = read_ways(file, relations, wanted, extract.counts);
    const NodePass nodes = read_nodes(file, ways, wanted, extract.counts);
    if (extract.counts.nodes == 0)
        file.refuse("holds no nodes", "export the map again, with nodes, ways and relations");

    extract.features = make_features(relations, ways, nodes, extract.counts);
    extract.roads = std::move(ways.roads);
    extract.restrictions = std::move(relations.restrictions);
    keep_road_nodes(nodes, extract);
    extract.box = box_around(extract.node_places);
    extract.counts.road_ways = extract.roads.size();
    extract.counts.restrictions = extract.restrictions.size();
    extract.counts.features = extract.features.size();
    return extract;
}

} // namespace routing::roads
