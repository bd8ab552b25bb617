#include "own_process.hpp"

#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <cstdio>
#include <exception>

namespace bench {

std::optional<Result> in_own_process(const std::function<Result()>& work) {
    std::array<int, 2> ends{};
    if (pipe(ends.data()) != 0)
        return std::nullopt;
    std::fflush(stdout);
    const auto started = std::chrono::steady_clock::now();
    const pid_t child = fork();
    if (child < 0)
        return std::nullopt;
    if (child == 0) {
        int code = 1;
        try {
            const Result result = work();
            code = write(ends[1], &result, sizeof result) == static_cast<ssize_t>(sizeof result) ? 0 : 1;
        } catch (const std::exception& error) {
            std::fprintf(stderr, "%s\n", error.what());
        }
        _exit(code);
    }
    close(ends[1]);
    Result result;
    const bool whole = read(ends[0], &result, sizeof result) == static_cast<ssize_t>(sizeof result);
    close(ends[0]);
    int status = 0;
    rusage usage{};
    const bool ended_well = wait4(child, &status, 0, &usage) == child && WIFEXITED(status) && WEXITSTATUS(status) == 0;
    if (!whole || !ended_well)
        return std::nullopt;
    result.whole_seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - started).count();
    result.peak_mib = static_cast<double>(usage.ru_maxrss) / 1024.0; // Linux counts in KiB
    return result;
}

} // namespace bench
