// Walking times on real extracts, and on an invented town for where those are not at hand.

#include "dice.hpp"
#include "foot_reference.hpp"
#include "hand_network.hpp"
#include "map_text.hpp"

#include "routing/roads/foot/foot_network.hpp"
#include "routing/roads/foot/walk_finder.hpp"
#include "routing/roads/shortest_path.hpp"
#include "tests/support/shared_data.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>

using namespace routing::roads;

namespace {

const std::vector<std::string> extracts{"town",
                                        "osm/andorra-2023-05-02.osm.pbf",
                                        "osm/liechtenstein-2013-08-03.osm.pbf",
                                        "osm/liechtenstein-2021-05-05.osm.pbf",
                                        "osm/monaco-2022-07-19.osm.pbf",
                                        "osm/helsinki-centre-2019-04.osm.pbf"};

std::filesystem::path file_of(const std::string& name) {
    if (name == "town")
        return std::filesystem::path(DAYWEAVE_SOURCE_DIR) / "tests/routing/roads/data/harbour_town.osm";
    return support::shared_data(name).value_or("");
}

/// The node itself, as the end of an edge walked both ways, which neither sets off nor arrives in one direction only.
std::optional<RoadPoint> at_node(const RoadNetwork& network, std::uint32_t node) {
    for (const Arc& arc : network.arcs_from(NodeIndex{node})) {
        const Edge& edge = network.edges[value(arc.edge)];
        if (edge.forward < closed && edge.backward < closed)
            return support::on(network, arc.edge, arc.forward ? 0.0 : 1.0);
    }
    return std::nullopt;
}

struct Place {
    RoadPoint point;
    std::size_t in_reference = 0;
};

Place random_place(const RoadNetwork& network, const support::FootReference& reference, support::Dice& dice) {
    for (;;) {
        const std::uint32_t node = dice.below(network.node_count());
        const auto point = at_node(network, node);
        const auto index = reference.index_of(network.node_osm[node]);
        if (point && index)
            return {*point, *index};
    }
}

} // namespace

TEST_CASE("2000 random pairs of each extract: times on foot equal a search from node to node by rules of its own") {
    for (const std::string& name : extracts) {
        CAPTURE(name);
        const auto file = file_of(name);
        if (file.empty())
            continue;
        const OsmExtract extract = read_extract(file, [](const Tags&) { return false; });
        const RoadNetwork network = foot::build_foot_network(extract);
        const support::FootReference reference(extract, true);
        const support::FootReference without_crowded(extract, false);
        CHECK(roads_test::count_of(network, "squares crossed straight") == reference.squares);
        PathFinder finder(network);
        support::Dice dice(4);
        int equal = 0;
        int reached = 0;
        for (int i = 0; i < 40; ++i) {
            const Place from = random_place(network, reference, dice);
            const auto quickest = reference.seconds_from(from.in_reference);
            const auto slowest = without_crowded.seconds_from(from.in_reference);
            for (int j = 0; j < 50; ++j) {
                const Place to = random_place(network, reference, dice);
                const auto path = finder.quickest_path(from.point, to.point);
                const double least = 1000.0 * quickest[to.in_reference];
                const double most = 1000.0 * slowest[to.in_reference];
                REQUIRE(path.has_value() == std::isfinite(least));
                if (!path)
                    continue;
                ++reached;
                // Each piece is rounded to a millisecond.
                const double rounding = 0.5 * static_cast<double>(path->pieces.size()) + 0.5;
                const auto time = static_cast<double>(path->time);
                REQUIRE(time >= least - rounding);
                REQUIRE(time <= std::min(most, 1.1 * least) + rounding);
                equal += std::abs(time - least) <= rounding ? 1 : 0;
                // Only a square with many entries may make a difference.
                if (least == most)
                    REQUIRE(std::abs(time - least) <= rounding);
            }
        }
        MESSAGE(name << ": " << network.edges.size() << " edges, " << reference.squares << " squares ("
                     << reference.crowded_squares << " with more than 12 entries), " << reference.shut_nodes
                     << " shut nodes, " << reached << " pairs with a way, " << equal << " equal");
        CHECK(reached > 1000);
    }
}

TEST_CASE("on each extract walks to 50 spots take what the path search says, plus the stretches to the paths") {
    for (const std::string& name : extracts) {
        CAPTURE(name);
        const auto file = file_of(name);
        if (file.empty())
            continue;
        const OsmExtract extract = read_extract(file, [](const Tags&) { return false; });
        const RoadNetwork network = foot::build_foot_network(extract);
        const SnapIndex index(network);
        foot::WalkFinder walker(network, index);
        PathFinder finder(network);
        support::Dice dice(50);
        const auto near_a_node = [&] {
            geo::Coordinate place = network.node_place[dice.below(network.node_count())];
            place.latitude.value += dice.between(-0.001, 0.001);
            place.longitude.value += dice.between(-0.001, 0.001);
            return place;
        };
        // Where the nearest path of all is one of the largest part, the walk ends at it.
        const auto only_end = [&](geo::Coordinate place) {
            const auto point = index.nearest(place, foot::longest_off_path);
            return point && !point->passed_over_nearer ? point : std::nullopt;
        };
        int compared = 0;
        for (int i = 0; i < 50; ++i) {
            const geo::Coordinate spot = near_a_node();
            const auto end = only_end(spot);
            if (!end)
                continue;
            std::vector<geo::Coordinate> from;
            for (int j = 0; j < 20; ++j)
                from.push_back(near_a_node());
            const auto walks = walker.walks(spot, from, geo::Seconds{200'000});
            for (std::size_t j = 0; j < from.size(); ++j) {
                const auto start = only_end(from[j]);
                if (!start || distance(from[j], spot) <= foot::within_sight)
                    continue;
                const auto path = finder.quickest_path(*start, *end);
                REQUIRE(path.has_value() == walks[j].has_value());
                const auto stretch = [](const RoadPoint& point) {
                    return std::llround(point.moved.value * 1000.0 * 3.6 / 2.4);
                };
                REQUIRE(walks[j]->time == path->time + stretch(*start) + stretch(*end));
                ++compared;
            }
        }
        CHECK(compared > 500);
    }
}
