// Walks on maps thrown together at random, with far more barriers, squares and one-ways than a real one has.

#include "dice.hpp"
#include "foot_reference.hpp"
#include "hand_network.hpp"

#include "routing/roads/foot/foot_network.hpp"
#include "routing/roads/shortest_path.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace routing::roads;

namespace {

using TagList = std::vector<std::pair<std::string, std::string>>;

constexpr std::uint32_t side = 4; // a rim has 12 nodes at most: all its entries are linked

OsmId node_at(std::uint32_t row, std::uint32_t column) {
    return 100 + OsmId{row * side + column};
}

template <std::size_t count>
const char* one_of(support::Dice& dice, const char* const (&texts)[count]) {
    return texts[dice.below(count)];
}

Tags random_way_tags(support::Dice& dice) {
    TagList tags{
        {"highway", one_of(dice, {"path", "steps", "residential", "cycleway", "motorway", "trunk", "busway"})}};
    if (dice.one_in(4))
        tags.emplace_back("foot", one_of(dice, {"yes", "no", "destination", "no;yes", "whatever"}));
    if (dice.one_in(4))
        tags.emplace_back("access", one_of(dice, {"private", "yes", "customers"}));
    if (dice.one_in(5))
        tags.emplace_back(one_of(dice, {"oneway:foot", "oneway"}), one_of(dice, {"yes", "-1"}));
    if (dice.one_in(6))
        tags.emplace_back(one_of(dice, {"foot:forward", "foot:backward"}), one_of(dice, {"yes", "no"}));
    if (dice.one_in(4))
        tags.emplace_back("sac_scale", one_of(dice, {"hiking", "mountain_hiking", "alpine_hiking"}));
    if (dice.one_in(6))
        tags.emplace_back("motorroad", "yes");
    return Tags(tags);
}

/// The rim of a block of the grid; its nodes do not stand in line, so it may bulge in or out.
RoadWay random_square(support::Dice& dice, OsmId id) {
    const std::uint32_t south = dice.below(side - 1);
    const std::uint32_t west = dice.below(side - 1);
    const std::uint32_t north = south + 1 + dice.below(side - 1 - south);
    const std::uint32_t east = west + 1 + dice.below(side - 1 - west);
    RoadWay square;
    square.id = id;
    for (std::uint32_t column = west; column < east; ++column)
        square.nodes.push_back(node_at(south, column));
    for (std::uint32_t row = south; row < north; ++row)
        square.nodes.push_back(node_at(row, east));
    for (std::uint32_t column = east; column > west; --column)
        square.nodes.push_back(node_at(north, column));
    for (std::uint32_t row = north; row >= south + 1; --row)
        square.nodes.push_back(node_at(row, west));
    square.nodes.push_back(square.nodes.front());
    TagList tags{{"highway", one_of(dice, {"pedestrian", "footway", "path"})}};
    if (!dice.one_in(4))
        tags.emplace_back("area", "yes");
    square.tags = Tags(tags);
    return square;
}

OsmExtract random_extract(support::Dice& dice) {
    OsmExtract extract;
    for (std::uint32_t i = 0; i < side * side; ++i) {
        const OsmId node = node_at(i / side, i % side);
        extract.node_ids.push_back(node);
        extract.node_places.push_back({{-35.0 + 0.001 * (i / side) + dice.between(0.0, 0.0004)},
                                       {-20.0 + 0.001 * (i % side) + dice.between(0.0, 0.0004)}});
        if (!dice.one_in(4))
            continue;
        TagList tags;
        if (!dice.one_in(4))
            tags.emplace_back("barrier", one_of(dice, {"bollard", "gate", "stile", "wall", "yes"}));
        if (dice.one_in(2))
            tags.emplace_back(one_of(dice, {"foot", "access"}), one_of(dice, {"yes", "private"}));
        if (dice.one_in(4))
            tags.emplace_back("highway", "crossing");
        extract.road_nodes.push_back({node, Tags(tags)});
    }
    for (OsmId way = 1; way <= 16; ++way) {
        // Along a row or a column of the grid.
        RoadWay road;
        road.id = way;
        const std::uint32_t line = dice.below(side);
        const std::uint32_t begin = dice.below(side - 1);
        const std::uint32_t end = begin + 1 + dice.below(side - 1 - begin);
        const bool is_row = dice.one_in(2);
        for (std::uint32_t i = begin; i <= end; ++i)
            road.nodes.push_back(is_row ? node_at(line, i) : node_at(i, line));
        road.tags = random_way_tags(dice);
        extract.roads.push_back(road);
    }
    for (OsmId way = 17; way <= 19; ++way)
        extract.roads.push_back(random_square(dice, way));
    return extract;
}

/// The end of an edge walked both ways.
std::optional<RoadPoint> at_node(const RoadNetwork& network, std::uint32_t node) {
    for (const Arc& arc : network.arcs_from(NodeIndex{node})) {
        const Edge& edge = network.edges[value(arc.edge)];
        if (edge.forward < closed && edge.backward < closed)
            return support::on(network, arc.edge, arc.forward ? 0.0 : 1.0);
    }
    return std::nullopt;
}

} // namespace

TEST_CASE("times on foot on 300 random maps equal a search from node to node by rules of its own") {
    support::Dice dice(7);
    int reached = 0;
    int missing = 0;
    std::size_t squares = 0;
    std::size_t shut = 0;
    for (int round = 0; round < 300; ++round) {
        CAPTURE(round);
        const OsmExtract extract = random_extract(dice);
        const RoadNetwork network = foot::build_foot_network(extract);
        const support::FootReference reference(extract, true);
        REQUIRE(reference.crowded_squares == 0);
        squares += reference.squares;
        shut += reference.shut_nodes;
        PathFinder finder(network);
        for (std::uint32_t from = 0; from < network.node_count(); ++from) {
            const auto start = at_node(network, from);
            const auto start_index = reference.index_of(network.node_osm[from]);
            if (!start || !start_index)
                continue;
            const auto seconds = reference.seconds_from(*start_index);
            for (std::uint32_t to = 0; to < network.node_count(); ++to) {
                const auto end = at_node(network, to);
                const auto end_index = reference.index_of(network.node_osm[to]);
                if (!end || !end_index)
                    continue;
                const auto path = finder.quickest_path(*start, *end);
                REQUIRE(path.has_value() == std::isfinite(seconds[*end_index]));
                ++(path ? reached : missing);
                // Each piece is rounded to a millisecond.
                if (path)
                    REQUIRE(std::abs(static_cast<double>(path->time) - 1000.0 * seconds[*end_index]) <=
                            0.5 * static_cast<double>(path->pieces.size()) + 0.5);
            }
        }
    }
    CHECK(reached > 10000);
    CHECK(missing > 1000);
    CHECK(squares > 300);
    CHECK(shut > 300);
}
