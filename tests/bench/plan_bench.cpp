/// How long planning takes on real maps: loading the region, then shoots of 6 and 12 scenes with lunch from the map,
/// each proven. Every map in a process of its own, so that its peak of memory is its own.
///
///     bench_plan [EXTRACT...]      default: the optional extracts, and the demo island

#include "routing/shoot/planner.hpp"
#include "tests/routing/shoot/map_shoot.hpp"
#include "tests/support/data_file.hpp"

#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <exception>
#include <filesystem>
#include <string>
#include <vector>

namespace {

double seconds_since(std::chrono::steady_clock::time_point start) {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

void measure(const std::string& file) {
    const auto start = std::chrono::steady_clock::now();
    const routing::shoot::Region region = routing::shoot::load_region(file, {});
    const double load = seconds_since(start);
    std::printf("%-34s load %6.0f ms", std::filesystem::path(file).filename().c_str(), load * 1e3);
    for (const int scenes : {6, 12}) {
        std::mt19937 random(6);
        std::vector<double> times;
        int proven = 0;
        for (int n = 0; n < 11; ++n) {
            const routing::shoot::Shoot shoot = map_shoot::draw(region, random, scenes, 1);
            const auto begun = std::chrono::steady_clock::now();
            proven += routing::shoot::plan_shoot(shoot, region, {}).proven ? 1 : 0;
            times.push_back(seconds_since(begun));
        }
        std::sort(times.begin(), times.end());
        std::printf("  %2d scenes: median %5.0f ms, max %5.0f ms, proven %d of 11", scenes, times[5] * 1e3,
                    times.back() * 1e3, proven);
    }
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    std::printf("  peak %.0f MiB\n", static_cast<double>(usage.ru_maxrss) / 1024.0);
}

} // namespace

int main(int count, char** arguments) {
    std::vector<std::string> files(arguments + 1, arguments + count);
    if (files.empty()) {
        files.emplace_back(DAYWEAVE_SOURCE_DIR "/regions/ondrel/ondrel.osm.pbf");
        for (const char* name : {"osm/andorra-2023-05-02.osm.pbf", "osm/liechtenstein-2013-08-03.osm.pbf",
                                 "osm/liechtenstein-2021-05-05.osm.pbf", "osm/monaco-2022-07-19.osm.pbf",
                                 "osm/helsinki-centre-2019-04.osm.pbf"})
            files.push_back(support::data_file(name).string());
    }
    int failed = 0;
    for (const std::string& file : files) {
        std::fflush(stdout);
        const pid_t child = fork();
        if (child == 0) {
            try {
                measure(file);
                std::fflush(stdout);
                _exit(0);
            } catch (const std::exception& error) {
                std::fprintf(stderr, "SKIPPED: %s\n", error.what());
                _exit(1);
            }
        }
        int status = 1;
        waitpid(child, &status, 0);
        failed += status == 0 ? 0 : 1;
    }
    return failed == 0 ? 0 : 1;
}
