#include "geo/sky/moon_phase.hpp"

#include "geo/sky/moon.hpp"

#include <array>
#include <cmath>

namespace geo::sky {

namespace {

/// The first after `from`, rounded.
Instant solve(double elongation, PreciseInstant from) {
    constexpr PreciseSeconds degree_of_moon{29.530588853 / 360.0 * 86400.0}; // mean synodic month (Meeus, chapter 49)
    const auto lacking = [&](PreciseInstant when) {
        return std::remainder(elongation - moon_elongation(when).value, 360.0);
    };
    const double first = lacking(from);
    PreciseInstant when = from + degree_of_moon * (first < 0.0 ? first + 360.0 : first);
    // The moon's pace is within a fifth of the mean, so each round leaves a fifth of the error.
    for (int round = 0; round < 20; ++round)
        when += degree_of_moon * lacking(when);
    return rounded(when);
}

} // namespace

Instant next_moon_phase(MoonPhase phase, Instant from) {
    const double elongation = 90.0 * static_cast<double>(phase);
    // What rounds to `from` counts as at it.
    const Instant found = solve(elongation, precise(from) - PreciseSeconds{0.5});
    return found < from ? solve(elongation, precise(from + std::chrono::hours{24})) : found;
}

std::string_view to_string(MoonPhase phase) {
    static constexpr std::array<std::string_view, 4> words{"new moon", "first quarter", "full moon", "last quarter"};
    return words[static_cast<std::size_t>(phase)];
}

std::string_view phase_words(Degrees elongation) {
    constexpr double half_day = 6.1; // degrees
    static constexpr std::array<std::string_view, 4> between{"waxing crescent", "waxing gibbous", "waning gibbous",
                                                             "waning crescent"};
    for (int quarter = 0; quarter < 4; ++quarter)
        if (std::abs(std::remainder(elongation.value - 90.0 * quarter, 360.0)) <= half_day)
            return to_string(static_cast<MoonPhase>(quarter));
    return between[static_cast<std::size_t>(elongation.value / 90.0) % 4];
}

} // namespace geo::sky
