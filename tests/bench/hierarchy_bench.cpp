/// Travel times by the hierarchy against Dijkstra runs of Boost.Graph on the same network, and what making and updating
/// it costs. Tables are compared; a difference ends the program with 1.
///
///     bench_hierarchy [EXTRACT...]     default: the optional extracts, the demo island, and a mosaic of about a
///     million
///                                      nodes made of one of them

#include "map_mosaic.hpp"
#include "routing/roads/hierarchy/travel_table.hpp"
#include "tests/routing/roads/dice.hpp"
#include "tests/support/data_file.hpp"

#include <boost/graph/compressed_sparse_row_graph.hpp>
#include <boost/graph/dijkstra_shortest_paths.hpp>

#include <sys/resource.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <exception>
#include <filesystem>
#include <string>
#include <vector>

namespace {

using namespace routing::roads;
namespace hierarchy = routing::roads::hierarchy;

constexpr int points_asked = 60;

double milliseconds_since(std::chrono::steady_clock::time_point start) {
    return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count();
}

template <class Work>
double median_of(int runs, Work work) {
    std::vector<double> times;
    for (int n = 0; n < runs; ++n) {
        const auto start = std::chrono::steady_clock::now();
        work();
        times.push_back(milliseconds_since(start));
    }
    std::sort(times.begin(), times.end());
    return times[times.size() / 2];
}

RoadPoint draw(const RoadNetwork& network, support::Dice& dice) {
    for (;;) {
        const EdgeIndex edge{dice.below(static_cast<std::uint32_t>(network.edges.size()))};
        const Edge& drawn = network.edges[value(edge)];
        if (!drawn.destination_only && (drawn.forward < closed || drawn.backward < closed))
            return {edge, dice.share(), {}, {}, false};
    }
}

/// Sources and targets stand in the graph as nodes of their own.
class BoostRuns {
public:
    BoostRuns(const RoadNetwork& network, const std::vector<RoadPoint>& from, const std::vector<RoadPoint>& to)
        : nodes_(network.node_count()), targets_(to.size()) {
        std::vector<std::pair<std::uint32_t, std::uint32_t>> links;
        std::vector<Milliseconds> weights;
        const auto add = [&](std::uint32_t a, std::uint32_t b, Milliseconds time) {
            links.emplace_back(a, b);
            weights.push_back(time);
        };
        for (std::uint32_t arc = 0; arc < network.arcs.size(); ++arc)
            if (network.arcs[arc].time < closed && !network.edges[value(network.arcs[arc].edge)].destination_only)
                add(network.tail[arc], value(network.arcs[arc].head), network.arcs[arc].time);
        for (std::uint32_t n = 0; n < from.size(); ++n)
            for (const bool forward : {true, false})
                for (const std::uint32_t arc : network.arcs_along(from[n].edge, forward))
                    add(nodes_ + n, value(network.arcs[arc].head),
                        network.arcs[arc].time - time_to_fraction(network.arcs[arc].time,
                                                                  forward ? from[n].fraction : 1 - from[n].fraction));
        for (std::uint32_t n = 0; n < to.size(); ++n)
            for (const bool forward : {true, false})
                for (const std::uint32_t arc : network.arcs_along(to[n].edge, forward))
                    add(network.tail[arc], nodes_ + points_asked + n,
                        time_to_fraction(network.arcs[arc].time, forward ? to[n].fraction : 1 - to[n].fraction));
        graph_ = Graph(boost::edges_are_unsorted_multi_pass, links.begin(), links.end(), weights.begin(),
                       nodes_ + 2 * points_asked);
        distance_.resize(nodes_ + 2 * points_asked);
    }

    std::vector<Milliseconds> row(std::uint32_t source) {
        boost::dijkstra_shortest_paths(graph_, nodes_ + source,
                                       boost::weight_map(boost::get(boost::edge_bundle, graph_))
                                           .distance_map(boost::make_iterator_property_map(
                                               distance_.begin(), boost::get(boost::vertex_index, graph_)))
                                           .distance_inf(closed));
        std::vector<Milliseconds> row;
        for (std::uint32_t n = 0; n < targets_; ++n)
            row.push_back(distance_[nodes_ + points_asked + n]);
        return row;
    }

private:
    using Graph = boost::compressed_sparse_row_graph<boost::directedS, boost::no_property, Milliseconds,
                                                     boost::no_property, std::uint32_t, std::uint32_t>;
    std::uint32_t nodes_;
    std::size_t targets_;
    Graph graph_;
    std::vector<Milliseconds> distance_;
};

bool measure(const std::string& name, const RoadNetwork& network) {
    std::printf("%s: %u nodes, %zu arcs\n", name.c_str(), network.node_count(), network.arcs.size());
    auto start = std::chrono::steady_clock::now();
    const std::vector<std::uint32_t> order = hierarchy::elimination_order(network);
    const double order_time = milliseconds_since(start);
    start = std::chrono::steady_clock::now();
    const hierarchy::Hierarchy shape = hierarchy::build_hierarchy(network, order);
    const double shape_time = milliseconds_since(start);
    const double customize_time = median_of(5, [&] { hierarchy::Metric(shape, network, {}); });
    hierarchy::Metric metric(shape, network, {});
    hierarchy::TravelTable table(metric);

    support::Dice dice(60);
    std::vector<RoadPoint> from;
    std::vector<RoadPoint> to;
    for (int n = 0; n < points_asked; ++n) {
        from.push_back(draw(network, dice));
        to.push_back(draw(network, dice));
    }
    std::vector<Milliseconds> times;
    const double table_time = median_of(21, [&] { times = table.times(from, to); });

    BoostRuns boost_runs(network, from, to);
    start = std::chrono::steady_clock::now();
    std::vector<Milliseconds> reference;
    for (std::uint32_t n = 0; n < points_asked; ++n) {
        const auto row = boost_runs.row(n);
        reference.insert(reference.end(), row.begin(), row.end());
    }
    const double boost_time = milliseconds_since(start);
    bool equal = true;
    for (std::size_t i = 0; i < times.size(); ++i)
        equal = equal && (times[i] == reference[i] || from[i / points_asked].edge == to[i % points_asked].edge);

    std::vector<double> closure_times;
    for (int n = 0; n < 51; ++n) {
        const OsmId way = network.edges[value(draw(network, dice).edge)].way;
        std::vector<EdgeIndex> edges;
        for (std::uint32_t edge = 0; edge < network.edges.size(); ++edge)
            if (network.edges[edge].way == way)
                edges.push_back(EdgeIndex{edge});
        start = std::chrono::steady_clock::now();
        metric.shut(edges);
        times = table.times(from, to);
        closure_times.push_back(milliseconds_since(start));
        metric.reopen();
    }
    std::sort(closure_times.begin(), closure_times.end());
    std::printf("  %.2f up-arcs a node; order %.0f ms, shape %.0f ms, customize %.1f ms\n",
                static_cast<double>(shape.head.size()) / network.node_count(), order_time, shape_time, customize_time);
    std::printf("  60 x 60: %.3f ms, 60 Boost.Graph Dijkstra runs %.0f ms: %.0f x%s\n", table_time, boost_time,
                boost_time / table_time, equal ? ", tables equal" : ", TABLES DIFFER");
    std::printf("  a way shut + 60 x 60: median %.3f ms, max %.3f ms\n", closure_times[25], closure_times.back());
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    std::printf("  peak so far %.0f MiB\n", static_cast<double>(usage.ru_maxrss) / 1024.0);
    return equal;
}

RoadNetwork network_of(const OsmExtract& extract) {
    return build_network(extract, Vehicle{});
}

} // namespace

int main(int count, char** arguments) {
    std::vector<std::string> files(arguments + 1, arguments + count);
    std::string tile = DAYWEAVE_SOURCE_DIR "/regions/ondrel/ondrel.osm.pbf";
    const bool with_mosaic = files.empty();
    if (files.empty()) {
        files.push_back(tile);
        for (const char* name : {"osm/andorra-2023-05-02.osm.pbf", "osm/liechtenstein-2013-08-03.osm.pbf",
                                 "osm/liechtenstein-2021-05-05.osm.pbf", "osm/monaco-2022-07-19.osm.pbf",
                                 "osm/helsinki-centre-2019-04.osm.pbf"})
            if (const auto file = support::data_file(name); std::filesystem::exists(file)) {
                files.push_back(file.string());
                if (files.size() == 2)
                    tile = files.back();
            } else {
                std::fprintf(stderr, "SKIPPED, not there: %s\n", name);
            }
    }
    bool equal = true;
    try {
        const auto nothing_else = [](const Tags&) { return false; };
        for (const std::string& file : files)
            equal = measure(std::filesystem::path(file).filename().string(),
                            network_of(read_extract(file, nothing_else))) &&
                    equal;
        if (with_mosaic) {
            const OsmExtract extract = read_extract(tile, nothing_else);
            const double nodes = network_of(extract).node_count();
            const int side = std::max(2, static_cast<int>(std::lround(std::sqrt(1e6 / nodes))));
            equal = measure("mosaic of " + std::to_string(side * side) + " x " +
                                std::filesystem::path(tile).filename().string(),
                            network_of(bench::mosaic(extract, side))) &&
                    equal;
        }
    } catch (const std::exception& error) {
        std::fprintf(stderr, "%s\n", error.what());
        return 1;
    }
    return equal ? 0 : 1;
}
