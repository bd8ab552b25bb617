// The hierarchy against PathFinder, which the other tests hold against an edge-based reference.

#include "dice.hpp"
#include "hand_network.hpp"
#include "path_walk.hpp"
#include "raw_rules.hpp"
#include "routing/roads/hierarchy/dissection.hpp"
#include "routing/roads/hierarchy/travel_table.hpp"
#include "tests/support/shared_data.hpp"

#include <doctest/doctest.h>

#include <filesystem>
#include <memory>
#include <numeric>

using namespace routing::roads;
namespace hierarchy = routing::roads::hierarchy;

namespace {

struct Map {
    std::string name;
    OsmExtract extract;
    RoadNetwork network;
    support::TurnRules rules;
    hierarchy::Hierarchy shape;

    Map(const std::string& file_name, const std::filesystem::path& file)
        : name(file_name), extract(read_extract(file, [](const Tags&) { return false; })),
          network(build_network(extract, Vehicle{})), rules(support::raw_turn_rules(extract, network)),
          shape(hierarchy::build_hierarchy(network, hierarchy::elimination_order(network))) {}
};

const std::vector<std::unique_ptr<Map>>& maps() {
    static const auto all = [] {
        const std::filesystem::path source{DAYWEAVE_SOURCE_DIR};
        std::vector<std::unique_ptr<Map>> present;
        present.push_back(std::make_unique<Map>("town", source / "tests/routing/roads/data/harbour_town.osm"));
        for (const char* name : {"osm/andorra-2023-05-02.osm.pbf", "osm/liechtenstein-2013-08-03.osm.pbf",
                                 "osm/liechtenstein-2021-05-05.osm.pbf", "osm/monaco-2022-07-19.osm.pbf",
                                 "osm/helsinki-centre-2019-04.osm.pbf"})
            if (const auto file = support::shared_data(name))
                present.push_back(std::make_unique<Map>(name, *file));
        return present;
    }();
    return all;
}

EdgeIndex random_edge(const RoadNetwork& network, support::Dice& dice) {
    for (;;) {
        const EdgeIndex edge{dice.below(static_cast<std::uint32_t>(network.edges.size()))};
        if (network.edges[value(edge)].forward < closed || network.edges[value(edge)].backward < closed)
            return edge;
    }
}

std::vector<RoadPoint> random_points(const RoadNetwork& network, support::Dice& dice, int count) {
    std::vector<RoadPoint> points;
    for (int i = 0; i < count; ++i)
        points.push_back(support::on(network, random_edge(network, dice), dice.share()));
    return points;
}

std::vector<EdgeIndex> random_edges(const RoadNetwork& network, support::Dice& dice, int count) {
    std::vector<EdgeIndex> edges;
    for (int i = 0; i < count; ++i)
        edges.push_back(random_edge(network, dice));
    return edges;
}

ClosedEdges flags(const RoadNetwork& network, const std::vector<EdgeIndex>& edges) {
    ClosedEdges shut(network.edges.size(), false);
    for (const EdgeIndex edge : edges)
        shut[value(edge)] = true;
    return shut;
}

} // namespace

TEST_CASE("every node has one rank, and up-arcs lead up to the parent's neighbours or the parent") {
    for (const auto& map : maps()) {
        CAPTURE(map->name);
        const hierarchy::Hierarchy& shape = map->shape;
        std::vector<bool> met(map->network.node_count(), false);
        for (const auto rank : shape.rank)
            met[rank] = true;
        CHECK(std::find(met.begin(), met.end(), false) == met.end());
        for (hierarchy::Rank node = 0; node < shape.size(); ++node)
            for (auto arc = shape.first[node]; arc < shape.first[node + 1]; ++arc) {
                REQUIRE(shape.head[arc] > node);
                if (shape.head[arc] != shape.parent[node])
                    REQUIRE(shape.between(shape.parent[node], shape.head[arc]) != none);
            }
    }
}

TEST_CASE("2,000 random pairs of each extract with 0, 1 and 20 roads shut: times as plain Dijkstra's, paths drivable") {
    for (const auto& map : maps()) {
        CAPTURE(map->name);
        hierarchy::Metric metric(map->shape, map->network, {});
        hierarchy::TravelTable table(metric);
        PathFinder finder(map->network);
        support::Dice dice(2000);
        int found = 0;
        for (int round = 0; round < 20; ++round) {
            const std::vector<EdgeIndex> edges = random_edges(map->network, dice,
                                                              round % 3 == 0   ? 0
                                                              : round % 3 == 1 ? 1
                                                                               : 20);
            metric.shut(edges);
            const ClosedEdges shut = flags(map->network, edges);
            const auto from = random_points(map->network, dice, 10);
            auto to = random_points(map->network, dice, 9);
            to.push_back(support::on(map->network, from[0].edge, dice.share()));
            const auto times = table.times(from, to);
            REQUIRE(times == finder.travel_times(from, to, shut));
            for (std::size_t i = 0; i < times.size(); ++i) {
                const RoadPoint& start = from[i / to.size()];
                const RoadPoint& end = to[i % to.size()];
                const auto path = table.quickest_path(start, end);
                REQUIRE((path ? path->time : closed) == times[i]);
                if (path) {
                    ++found;
                    REQUIRE(support::fault_of(map->network, map->rules, start, end, *path, shut) == "");
                }
            }
            metric.reopen();
        }
        CHECK(found > 1000);
    }
}

TEST_CASE("a metric updated for closures equals one made afresh, and reopening gives the first one back") {
    for (const auto& map : maps()) {
        CAPTURE(map->name);
        support::Dice dice(31);
        const hierarchy::Metric open(map->shape, map->network, {});
        hierarchy::Metric updated(map->shape, map->network, {});
        const auto equal = [&map](const hierarchy::Metric& a, const hierarchy::Metric& b) {
            for (hierarchy::UpArc arc = 0; arc < map->shape.head.size(); ++arc)
                if (a.up(arc) != b.up(arc) || a.down(arc) != b.down(arc))
                    return false;
            return true;
        };
        for (const int count : {1, 20, 200}) {
            const auto edges = random_edges(map->network, dice, count);
            updated.shut(edges);
            CHECK(equal(updated, hierarchy::Metric(map->shape, map->network, flags(map->network, edges))));
            updated.shut(random_edges(map->network, dice, count));
            updated.reopen();
            CHECK(equal(updated, open));
        }
    }
}

TEST_CASE("a long chain is eliminated in a tree far lower than the chain is long") {
    std::vector<hierarchy::NodePair> links;
    std::vector<geo::Coordinate> places;
    for (std::uint32_t n = 0; n < 1000; ++n) {
        places.push_back({{1.0}, {n * 0.001}});
        if (n > 0)
            links.emplace_back(n - 1, n);
    }
    const auto order = hierarchy::dissection_order(links, places);
    REQUIRE(order.size() == 1000);
    // Each round takes at least every third node, so 18 rounds take 1,000; a parent goes in a later round.
    std::vector<std::uint32_t> rank(1000);
    for (std::uint32_t r = 0; r < 1000; ++r)
        rank[order[r]] = r;
    // In a chain the parent is the lower of the nearest higher ranks on either side.
    const auto parent = [&](std::uint32_t node) {
        std::uint32_t best = none;
        for (std::uint32_t left = node; left-- > 0;)
            if (rank[left] > rank[node]) {
                best = left;
                break;
            }
        for (std::uint32_t right = node + 1; right < 1000; ++right)
            if (rank[right] > rank[node]) {
                if (best == none || rank[right] < rank[best])
                    best = right;
                break;
            }
        return best;
    };
    for (std::uint32_t node = 0; node < 1000; ++node) {
        int depth = 0;
        for (std::uint32_t at = node; at != none; at = parent(at))
            ++depth;
        REQUIRE(depth <= 18);
    }
}
