/// Legs under closures in force for a time: TimedFinder against plain Dijkstra by time of arrival (stopping at the
/// target) on the same network, times compared; a difference ends the program with 1.
///
///     bench_timed [EXTRACT...]     default: Andorra, Liechtenstein and a mosaic of about a million nodes of the first;
///                                  the demo island in their place where they are not there

#include "map_mosaic.hpp"
#include "routing/roads/timed/timed_finder.hpp"
#include "routing/roads/timed/timed_reference.hpp"
#include "tests/routing/roads/dice.hpp"
#include "tests/support/data_file.hpp"

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
using namespace routing::roads::timed;
namespace hierarchy = routing::roads::hierarchy;

constexpr int legs_asked = 60;
constexpr int other_roads_shut = 100;
constexpr geo::Instant noon{geo::Seconds{1'700'000'000}};

template <class Work>
double milliseconds_of(Work work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count();
}

RoadPoint draw(const RoadNetwork& network, support::Dice& dice) {
    for (;;) {
        const EdgeIndex edge{dice.below(static_cast<std::uint32_t>(network.edges.size()))};
        const Edge& drawn = network.edges[value(edge)];
        if (!drawn.destination_only && (drawn.forward < closed || drawn.backward < closed))
            return {edge, dice.share(), {}, {}, false};
    }
}

/// The middle of the way, three pieces long, shut from noon for `length`; the leg sets off at noon.
TimedClosure shut_middle(const Path& path, geo::Seconds length) {
    TimedClosure closure{{}, {noon - geo::Seconds{60}, noon + length}};
    for (std::size_t piece = path.pieces.size() / 2; piece < path.pieces.size() && closure.edges.size() < 3; ++piece)
        closure.edges.push_back(path.pieces[piece].edge);
    return closure;
}

struct Times {
    std::vector<double> reference, finder;

    void print(const char* what) {
        std::vector<double> ratios;
        double reference_sum = 0.0;
        double finder_sum = 0.0;
        for (std::size_t i = 0; i < finder.size(); ++i) {
            reference_sum += reference[i];
            finder_sum += finder[i];
            ratios.push_back(reference[i] / finder[i]);
        }
        std::sort(ratios.begin(), ratios.end());
        std::sort(finder.begin(), finder.end());
        std::printf("  %s: mean %.3f ms, median %.3f, max %.2f; Dijkstra mean %.2f ms: %.1f x of the sums, median of "
                    "ratios %.1f, least %.2f\n",
                    what, finder_sum / static_cast<double>(finder.size()), finder[finder.size() / 2], finder.back(),
                    reference_sum / static_cast<double>(finder.size()), reference_sum / finder_sum,
                    ratios[ratios.size() / 2], ratios.front());
    }
};

bool measure(const std::string& name, const RoadNetwork& network) {
    std::printf("%s: %u nodes, %zu arcs, %d legs\n", name.c_str(), network.node_count(), network.arcs.size(),
                legs_asked);
    const hierarchy::Hierarchy shape = hierarchy::build_hierarchy(network, hierarchy::elimination_order(network));
    const hierarchy::Metric metric(shape, network, {});
    ShutTimes shut;
    TimedFinder finder(metric, shut);
    TimedReference reference(network, shut);
    support::Dice dice(34);
    Times free, waiting, round;
    bool equal = true;
    for (int leg = 0; leg < legs_asked;) {
        const RoadPoint from = draw(network, dice);
        const RoadPoint to = draw(network, dice);
        const auto path = finder.path_without_closures(from, to);
        if (!path || path->pieces.size() < 3)
            continue;
        ++leg;
        std::vector<TimedClosure> closures;
        for (int n = 0; n < other_roads_shut; ++n)
            closures.push_back({{draw(network, dice).edge}, {noon, noon + geo::Seconds{7200}}});
        const geo::Seconds way{path->time / 1000};
        const auto ask = [&](TimedClosure on_the_way, Times& times) {
            auto all = closures;
            all.push_back(std::move(on_the_way));
            shut = ShutTimes(network.edges.size(), all);
            std::optional<TimedPath> found;
            std::optional<TimedPath> plain;
            times.finder.push_back(milliseconds_of([&] { found = finder.quickest(from, to, noon); }));
            times.reference.push_back(milliseconds_of([&] { plain = reference.quickest(from, to, noon); }));
            equal = equal && found.has_value() == plain.has_value() && (!found || found->time == plain->time);
        };
        // Over before the van is there; reopening a little after; shut all day.
        ask(shut_middle(*path, geo::Seconds{0}), free);
        ask(shut_middle(*path, way / 2 + geo::Seconds{120}), waiting);
        ask(shut_middle(*path, geo::Seconds{86400}), round);
    }
    free.print("none in force on the way, where others leave it free");
    waiting.print("middle of the way reopens shortly");
    round.print("middle of the way shut all day");
    std::printf("  times %s\n", equal ? "equal" : "DIFFER");
    return equal;
}

} // namespace

int main(int count, char** arguments) {
    std::vector<std::string> files(arguments + 1, arguments + count);
    const bool with_mosaic = files.empty();
    if (with_mosaic) {
        for (const char* name : {"osm/andorra-2023-05-02.osm.pbf", "osm/liechtenstein-2021-05-05.osm.pbf"})
            if (const auto file = support::data_file(name); std::filesystem::exists(file))
                files.push_back(file.string());
            else
                std::fprintf(stderr, "SKIPPED, not there: %s\n", name);
        if (files.empty())
            files.emplace_back(DAYWEAVE_SOURCE_DIR "/regions/ondrel/ondrel.osm.pbf");
    }
    bool equal = true;
    try {
        const auto nothing_else = [](const Tags&) { return false; };
        for (const std::string& file : files)
            equal = measure(std::filesystem::path(file).filename().string(),
                            build_network(read_extract(file, nothing_else), Vehicle{})) &&
                    equal;
        if (with_mosaic) {
            const OsmExtract extract = read_extract(files.front(), nothing_else);
            const double nodes = build_network(extract, Vehicle{}).node_count();
            const int side = std::max(2, static_cast<int>(std::lround(std::sqrt(1e6 / nodes))));
            equal = measure("mosaic of " + std::to_string(side * side) + " x " +
                                std::filesystem::path(files.front()).filename().string(),
                            build_network(bench::mosaic(extract, side), Vehicle{})) &&
                    equal;
        }
    } catch (const std::exception& error) {
        std::fprintf(stderr, "%s\n", error.what());
        return 1;
    }
    return equal ? 0 : 1;
}
