/// How long planning takes on real maps: loading the region, then shoots of 6 and 12 scenes with lunch from the map,
/// each proven, and again with a way of its first leg shut for five hours. Every map in a process of its own, so that
/// its peak of memory is its own.
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

/// Shuts the way in the middle of the plan's first drive from ten to three; false when nothing is driven.
bool shut_way_of_first_leg(routing::shoot::Shoot& shoot, const routing::shoot::Plan& plan,
                           const routing::shoot::Region& region) {
    for (const routing::shoot::PlanStop& stop : plan.days.front().stops) {
        const auto& line = stop.leg.line;
        const auto road =
            line.size() > 4 ? region.index.nearest(line[line.size() / 2], geo::Metres{50.0}) : std::nullopt;
        if (!road)
            continue;
        const routing::roads::OsmId way = region.network->edges[routing::roads::value(road->edge)].way;
        routing::roads::Closure closure{routing::roads::Ways{{way}}, "way " + std::to_string(way)};
        const geo::CivilDate date = shoot.days.front().date;
        closure.from = geo::instant_of(date, std::chrono::hours{10}, shoot.zone);
        closure.until = geo::instant_of(date, std::chrono::hours{15}, shoot.zone);
        shoot.closures = {closure};
        return true;
    }
    return false;
}

void measure(const std::string& file) {
    const auto start = std::chrono::steady_clock::now();
    const routing::shoot::Region region = routing::shoot::load_region(file, {});
    const double load = seconds_since(start);
    std::printf("%-34s load %6.0f ms", std::filesystem::path(file).filename().c_str(), load * 1e3);
    for (const int scenes : {6, 12}) {
        std::mt19937 random(6);
        std::vector<double> times, shut_times;
        int proven = 0;
        for (int n = 0; n < 11; ++n) {
            routing::shoot::Shoot shoot = map_shoot::draw(region, random, scenes, 1);
            const auto begun = std::chrono::steady_clock::now();
            const routing::shoot::Plan plan = routing::shoot::plan_shoot(shoot, region, {});
            proven += plan.proven ? 1 : 0;
            times.push_back(seconds_since(begun));
            if (!shut_way_of_first_leg(shoot, plan, region))
                continue;
            const auto begun_shut = std::chrono::steady_clock::now();
            routing::shoot::plan_shoot(shoot, region, {});
            shut_times.push_back(seconds_since(begun_shut));
        }
        std::sort(times.begin(), times.end());
        std::printf("  %2d scenes: median %5.0f ms, max %5.0f ms, proven %d of 11", scenes, times[5] * 1e3,
                    times.back() * 1e3, proven);
        std::sort(shut_times.begin(), shut_times.end());
        if (!shut_times.empty())
            std::printf("; a way shut 10:00-15:00: median %5.0f ms, max %5.0f ms",
                        shut_times[shut_times.size() / 2] * 1e3, shut_times.back() * 1e3);
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
