/// How long it takes to load a map extract, against the least that reading it can cost: two bare passes of libosmium
/// over the same file, every object decoded and looked at. Each measurement runs in a process of its own, so that its
/// peak of memory is its own; times are the best of several runs.
///
///     bench_load [EXTRACT...]      default: the optional extracts, and those under regions/

#include "own_process.hpp"

#include "routing/places/place.hpp"
#include "routing/roads/network.hpp"
#include "routing/shoot/region.hpp"
#include "tests/support/data_file.hpp"

#include <osmium/handler.hpp>
#include <osmium/io/any_input.hpp>
#include <osmium/visitor.hpp>

#include <unistd.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace {

using bench::Counts;
using bench::in_own_process;
using bench::Result;

/// Best of several runs; `work` gives what it counted.
Result best_time(const std::function<Counts()>& work) {
    Result best;
    for (int run = 0; run < 5; ++run) {
        const auto start = std::chrono::steady_clock::now();
        best.counts = work();
        const std::chrono::duration<double> taken = std::chrono::steady_clock::now() - start;
        best.seconds = run == 0 ? taken.count() : std::min(best.seconds, taken.count());
    }
    return best;
}

struct Counter : osmium::handler::Handler {
    Counts counts{};
    std::uint64_t looked_at = 0; ///< so that nothing decoded goes unread
    void node(const osmium::Node& node) {
        ++counts[0];
        looked_at += static_cast<std::uint32_t>(node.location().x()) + node.tags().size();
    }
    void way(const osmium::Way& way) {
        ++counts[1];
        looked_at += way.nodes().size() + way.tags().size();
    }
    void relation(const osmium::Relation& relation) {
        ++counts[2];
        looked_at += relation.members().size() + relation.tags().size();
    }
};

Counts two_bare_passes(const std::string& file) {
    Counts counts{};
    for (int pass = 0; pass < 2; ++pass) {
        Counter counter;
        osmium::io::Reader reader(file, osmium::osm_entity_bits::nwr);
        osmium::apply(reader, counter);
        reader.close();
        counts = counter.counts;
        counts[3] = counter.looked_at;
    }
    return counts;
}

Counts read(const std::string& file) {
    const auto extract = routing::roads::read_extract(file, routing::places::is_place);
    return {extract.counts.road_ways, extract.counts.restrictions, extract.counts.features,
            routing::places::find_places(extract).size()};
}

Result build(const std::string& file) {
    const auto extract = routing::roads::read_extract(file, routing::places::is_place);
    return best_time([&]() -> Counts {
        const auto network = routing::roads::build_network(extract, {});
        return {network.node_count(), network.arcs.size(), network.edges.size(), network.component_size.size()};
    });
}

/// A copy of the extract in a folder of its own, where a prepared file may lie.
class CopiedExtract {
public:
    explicit CopiedExtract(const std::string& file)
        : folder_(std::filesystem::temp_directory_path() / ("bench_load_" + std::to_string(getpid()))) {
        std::filesystem::create_directories(folder_);
        std::filesystem::copy_file(file, folder_ / std::filesystem::path(file).filename());
        copy_ = folder_ / std::filesystem::path(file).filename();
    }
    CopiedExtract(const CopiedExtract&) = delete;
    CopiedExtract& operator=(const CopiedExtract&) = delete;
    ~CopiedExtract() {
        std::error_code ignored;
        std::filesystem::remove_all(folder_, ignored);
    }
    std::string file() const { return copy_.string(); }

private:
    std::filesystem::path folder_, copy_;
};

Counts load(const std::string& file, routing::shoot::Prepared prepared) {
    const auto region = routing::shoot::load_region(file, {}, prepared);
    return {region.network->node_count(), region.network->arcs.size(), region.places.size(), 0};
}

bool measure(const std::string& file) {
    const auto bare = in_own_process([&] { return best_time([&] { return two_bare_passes(file); }); });
    const auto loaded = in_own_process([&] { return best_time([&] { return read(file); }); });
    const auto built = in_own_process([&] { return build(file); });
    std::optional<Result> without, with;
    try {
        const CopiedExtract copy(file);
        using routing::shoot::Prepared;
        without = in_own_process([&] { return best_time([&] { return load(copy.file(), Prepared::ignore); }); });
        in_own_process([&] { return Result{0.0, load(copy.file(), Prepared::use), 0.0}; }); // makes the file
        with = in_own_process([&] { return best_time([&] { return load(copy.file(), Prepared::use); }); });
    } catch (const std::filesystem::filesystem_error& error) {
        std::printf("%s\n", error.what());
    }
    std::printf("%s\n", file.c_str());
    if (!bare || !loaded || !built || !without || !with || without->counts != with->counts) {
        std::printf("  could not be read\n");
        return false;
    }
    const auto row = [&](const char* what, const Result& result, const char* counted) {
        std::printf("  %-24s %8.1f ms  %5.2f x bare  peak %6.1f MiB  %s\n", what, result.seconds * 1e3,
                    result.seconds / bare->seconds, result.peak_mib, counted);
    };
    const auto counted = [](const Counts& c, const std::array<const char*, 4>& names, std::size_t count) {
        std::string text;
        for (std::size_t i = 0; i < count; ++i)
            text += (i == 0 ? "" : ", ") + std::to_string(c.at(i)) + " " + names.at(i);
        return text;
    };
    row("two bare passes", *bare, counted(bare->counts, {"nodes", "ways", "relations", ""}, 3).c_str());
    row("read_extract, places", *loaded,
        counted(loaded->counts, {"road ways", "restrictions", "features", "places"}, 4).c_str());
    row("build_network alone", *built,
        counted(built->counts, {"nodes", "arcs", "edges", "strong components"}, 4).c_str());
    Result whole = *built;
    whole.seconds += loaded->seconds;
    row("from file to network", whole, "");
    row("load_region, extract", *without, counted(without->counts, {"nodes", "arcs", "places", ""}, 3).c_str());
    row("load_region, prepared", *with, counted(with->counts, {"nodes", "arcs", "places", ""}, 3).c_str());
    std::printf("  prepared file: %.1f x faster, index of roads included\n", without->seconds / with->seconds);
    return true;
}

std::vector<std::string> default_files() {
    namespace fs = std::filesystem;
    std::vector<std::string> files;
    for (const fs::path& folder : {support::data_file("osm"), fs::path(DAYWEAVE_SOURCE_DIR) / "regions"}) {
        if (!fs::is_directory(folder)) {
            std::printf("*** not here: %s ***\n", folder.c_str());
            continue;
        }
        for (const auto& entry : fs::recursive_directory_iterator(folder))
            if (entry.path().string().ends_with(".osm.pbf"))
                files.push_back(entry.path().string());
    }
    std::sort(files.begin(), files.end());
    return files;
}

} // namespace

int main(int argc, char** argv) {
    std::vector<std::string> files(argv + 1, argv + argc);
    if (files.empty())
        files = default_files();
    if (files.empty())
        std::printf("no extract found; name some\n");
    bool all_read = true;
    for (const std::string& file : files)
        all_read = measure(file) && all_read;
    return all_read ? 0 : 1;
}
