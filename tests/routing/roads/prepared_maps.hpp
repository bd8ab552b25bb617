#pragma once
/// The town map and the optional extracts with their hierarchies, read once a test binary, and random draws from them.
///
///     for (const auto& map : support::prepared_maps()) ...

#include "dice.hpp"
#include "hand_network.hpp"
#include "raw_rules.hpp"
#include "routing/roads/closure.hpp"
#include "routing/roads/hierarchy/hierarchy.hpp"
#include "tests/support/shared_data.hpp"

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

namespace support {

struct PreparedMap {
    std::string name;
    roads::OsmExtract extract;
    roads::RoadNetwork network;
    TurnRules rules;
    roads::hierarchy::Hierarchy shape;

    PreparedMap(const std::string& file_name, const std::filesystem::path& file)
        : name(file_name), extract(roads::read_extract(file, [](const roads::Tags&) { return false; })),
          network(roads::build_network(extract, roads::Vehicle{})), rules(raw_turn_rules(extract, network)),
          shape(roads::hierarchy::build_hierarchy(network, roads::hierarchy::elimination_order(network))) {}
};

inline const std::vector<std::unique_ptr<PreparedMap>>& prepared_maps() {
    static const auto all = [] {
        const std::filesystem::path source{DAYWEAVE_SOURCE_DIR};
        std::vector<std::unique_ptr<PreparedMap>> present;
        present.push_back(std::make_unique<PreparedMap>("town", source / "tests/routing/roads/data/harbour_town.osm"));
        for (const char* name : {"osm/andorra-2023-05-02.osm.pbf", "osm/liechtenstein-2013-08-03.osm.pbf",
                                 "osm/liechtenstein-2021-05-05.osm.pbf", "osm/monaco-2022-07-19.osm.pbf",
                                 "osm/helsinki-centre-2019-04.osm.pbf"})
            if (const auto file = shared_data(name))
                present.push_back(std::make_unique<PreparedMap>(name, *file));
        return present;
    }();
    return all;
}

inline roads::EdgeIndex random_edge(const roads::RoadNetwork& network, Dice& dice) {
    for (;;) {
        const roads::EdgeIndex edge{dice.below(static_cast<std::uint32_t>(network.edges.size()))};
        if (network.edges[value(edge)].forward < roads::closed || network.edges[value(edge)].backward < roads::closed)
            return edge;
    }
}

inline std::vector<roads::RoadPoint> random_points(const roads::RoadNetwork& network, Dice& dice, int count) {
    std::vector<roads::RoadPoint> points;
    for (int i = 0; i < count; ++i)
        points.push_back(on(network, random_edge(network, dice), dice.share()));
    return points;
}

inline std::vector<roads::EdgeIndex> random_edges(const roads::RoadNetwork& network, Dice& dice, int count) {
    std::vector<roads::EdgeIndex> edges;
    for (int i = 0; i < count; ++i)
        edges.push_back(random_edge(network, dice));
    return edges;
}

inline roads::ClosedEdges flags(const roads::RoadNetwork& network, const std::vector<roads::EdgeIndex>& edges) {
    roads::ClosedEdges shut(network.edges.size(), false);
    for (const roads::EdgeIndex edge : edges)
        shut[value(edge)] = true;
    return shut;
}

} // namespace support
