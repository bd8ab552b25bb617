// The hierarchy against PathFinder, which the other tests hold against an edge-based reference.

#include "path_walk.hpp"
#include "prepared_maps.hpp"
#include "routing/roads/hierarchy/dissection.hpp"
#include "routing/roads/hierarchy/travel_table.hpp"

#include <doctest/doctest.h>

#include <numeric>

using namespace routing::roads;
namespace hierarchy = routing::roads::hierarchy;

using support::flags;
using support::prepared_maps;
using support::random_edges;
using support::random_points;

TEST_CASE("every node has one rank, and up-arcs lead up to the parent's neighbours or the parent") {
    for (const auto& map : prepared_maps()) {
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
    for (const auto& map : prepared_maps()) {
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
    for (const auto& map : prepared_maps()) {
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
