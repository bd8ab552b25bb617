#include "cli/progress_line.hpp"

#include "cli/plain_text.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <iostream>
#include <unistd.h>

namespace cli {

namespace {

constexpr const char* wipe = "\r\x1b[K"; // ECMA-48: erase in line

} // namespace

std::string progress_text(const std::string& stage, double share, double seconds_so_far) {
    constexpr std::size_t bar = 20, room = 25;
    constexpr double sure_from = 0.1;
    std::string said = shown(stage);
    if (said.size() > room) { // a path's end tells more than its beginning
        std::size_t from = said.size() - (room - 3);
        while (from < said.size() && (static_cast<unsigned char>(said[from]) & 0xC0U) == 0x80U)
            ++from; // whole characters
        said = "..." + said.substr(from);
    }
    const auto full = static_cast<std::size_t>(std::lround(std::clamp(share, 0.0, 1.0) * bar));
    char percent[16];
    std::snprintf(percent, sizeof percent, "%3.0f %%", 100.0 * std::clamp(share, 0.0, 1.0));
    std::string text = said + " [" + std::string(full, '#') + std::string(bar - full, '.') + "] " + percent;
    if (share >= sure_from && share < 1.0)
        text += ", about " + std::to_string(std::lround(std::ceil(seconds_so_far * (1.0 - share) / share))) + " s left";
    return text;
}

ProgressLine::ProgressLine() : on_terminal_(isatty(STDERR_FILENO) == 1) {}

ProgressLine::~ProgressLine() {
    if (on_terminal_)
        std::cerr << wipe << std::flush;
}

routing::shoot::PrepareWatch ProgressLine::watch() {
    if (!on_terminal_)
        return {};
    return [started = std::chrono::steady_clock::now()](const std::string& stage, double share) {
        const std::chrono::duration<double> so_far = std::chrono::steady_clock::now() - started;
        std::cerr << wipe << progress_text(stage, share, so_far.count()) << std::flush;
    };
}

} // namespace cli
