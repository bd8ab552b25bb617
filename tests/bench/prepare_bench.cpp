/// A map of about a million junctions, made ready from its PBF and then used by a new process: a mosaic of shifted
/// copies of a real extract (of the demo island where that is absent), written to a temporary folder.
///
///     bench_prepare [SIDE [EXTRACT [FOLDER]]]      default: 15 x 15 copies; FOLDER, new, keeps the map made
///
/// Told: making the prepared file (seconds, peak of memory), and a new process from its start to the first table of
/// 60 x 60 travel times, customization for the van included (whole process, file in the page cache).

#include "map_mosaic.hpp"
#include "own_process.hpp"

#include "routing/places/place.hpp"
#include "routing/roads/hierarchy/travel_table.hpp"
#include "routing/shoot/region.hpp"
#include "tests/support/data_file.hpp"

#include <osmium/builder/attr.hpp>
#include <osmium/io/pbf_output.hpp>
#include <osmium/io/writer.hpp>

#include <unistd.h>

#include <chrono>
#include <cstdio>
#include <filesystem>
#include <random>
#include <string>
#include <vector>

namespace {

namespace roads = routing::roads;
namespace attr = osmium::builder::attr;
using TagList = std::vector<std::pair<std::string, std::string>>;

osmium::Location location(geo::Coordinate place) {
    return {place.longitude.value, place.latitude.value};
}

/// Nodes, ways and relations, each in order of id.
void write_map(const roads::OsmExtract& map, const std::string& file) {
    osmium::io::Writer writer(file, osmium::io::overwrite::allow);
    osmium::memory::Buffer buffer(1 << 20, osmium::memory::Buffer::auto_grow::yes);
    const auto flush_if_full = [&] {
        if (buffer.committed() < (1 << 19))
            return;
        writer(std::move(buffer));
        buffer = osmium::memory::Buffer(1 << 20, osmium::memory::Buffer::auto_grow::yes);
    };
    std::size_t tagged = 0;
    for (std::size_t n = 0; n < map.node_ids.size(); ++n) {
        while (tagged < map.road_nodes.size() && map.road_nodes[tagged].id < map.node_ids[n])
            ++tagged;
        const bool has_tags = tagged < map.road_nodes.size() && map.road_nodes[tagged].id == map.node_ids[n];
        const TagList tags = has_tags ? map.road_nodes[tagged].tags.all() : TagList{};
        osmium::builder::add_node(buffer, attr::_id(map.node_ids[n]), attr::_version(1),
                                  attr::_location(location(map.node_places[n])), attr::_tags(tags));
        flush_if_full();
    }
    for (const roads::RoadWay& way : map.roads) {
        osmium::builder::add_way(buffer, attr::_id(way.id), attr::_version(1), attr::_nodes(way.nodes),
                                 attr::_tags(way.tags.all()));
        flush_if_full();
    }
    if (buffer.committed() > 0)
        writer(std::move(buffer));
    writer.close();
}

std::vector<roads::RoadPoint> spots(const roads::RoadNetwork& network, std::size_t count) {
    std::mt19937 random(7);
    std::vector<roads::RoadPoint> found;
    while (found.size() < count) {
        const roads::EdgeIndex edge{static_cast<std::uint32_t>(random() % network.edges.size())};
        const roads::Edge& road = network.edges[roads::value(edge)];
        if (road.forward < roads::closed && road.backward < roads::closed)
            found.push_back({edge, 0.5, network.shape_of(road).front(), {}});
    }
    return found;
}

double seconds_since(std::chrono::steady_clock::time_point start) {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

bench::Result make_ready(const std::string& file) {
    const auto start = std::chrono::steady_clock::now();
    const auto region = routing::shoot::load_region(file, {}, routing::shoot::Prepared::use);
    return {seconds_since(start), {region.network->node_count(), region.network->arcs.size(), region.has_prepared, 0}};
}

bench::Result first_table(const std::string& file) {
    const auto start = std::chrono::steady_clock::now();
    const auto region = routing::shoot::load_region(file, {}, routing::shoot::Prepared::use);
    const double loaded = seconds_since(start);
    const std::vector<roads::RoadPoint> points = spots(*region.network, 60);
    const roads::hierarchy::Metric open(region.hierarchy, *region.network, {});
    const double customized = seconds_since(start);
    const auto times = roads::hierarchy::TravelTable(open).times(points, points);
    std::uint64_t reached = 0;
    for (const roads::Milliseconds time : times)
        reached += time < roads::closed ? 1 : 0;
    return {seconds_since(start),
            {reached, static_cast<std::uint64_t>(loaded * 1e6), static_cast<std::uint64_t>(customized * 1e6), 0}};
}

} // namespace

int main(int argc, char** argv) {
    namespace fs = std::filesystem;
    const int side = argc > 1 ? std::stoi(argv[1]) : 15;
    fs::path tile = argc > 2 ? fs::path(argv[2]) : support::data_file("osm/andorra-2023-05-02.osm.pbf");
    if (!fs::exists(tile)) {
        std::printf("*** not here: %s; the demo island instead ***\n", tile.c_str());
        tile = fs::path(DAYWEAVE_SOURCE_DIR) / "regions/ondrel/ondrel.osm.pbf";
    }
    const fs::path folder =
        argc > 3 ? fs::path(argv[3]) : fs::temp_directory_path() / ("bench_prepare_" + std::to_string(getpid()));
    fs::create_directories(folder);
    const std::string file = (folder / "mosaic.osm.pbf").string();
    bench::in_own_process([&] {
        write_map(bench::mosaic(roads::read_extract(tile.string(), routing::places::is_place), side), file);
        return bench::Result{};
    });
    std::printf("%d x %d copies of %s: %.1f MiB\n", side, side, tile.filename().c_str(),
                static_cast<double>(fs::file_size(file)) / 1048576.0);
    const auto made = bench::in_own_process([&] { return make_ready(file); });
    if (made && made->counts[2] == 1) {
        std::printf("make ready from the PBF   %8.2f s   peak %7.1f MiB   %llu nodes, %llu arcs\n", made->seconds,
                    made->peak_mib, static_cast<unsigned long long>(made->counts[0]),
                    static_cast<unsigned long long>(made->counts[1]));
        bench::in_own_process([&] { return first_table(file); });
        const auto used = bench::in_own_process([&] { return first_table(file); });
        if (used)
            std::printf("new process, 60 x 60      %8.1f ms  peak %7.1f MiB   loaded after %.1f ms, customized after "
                        "%.1f ms, %llu of 3600 pairs have a way\n",
                        used->whole_seconds * 1e3, used->peak_mib, static_cast<double>(used->counts[1]) * 1e-3,
                        static_cast<double>(used->counts[2]) * 1e-3, static_cast<unsigned long long>(used->counts[0]));
    }
    std::error_code ignored;
    if (argc <= 3)
        fs::remove_all(folder, ignored);
    return made ? 0 : 1;
}
