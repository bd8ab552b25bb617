#pragma once
/// Small ordering problems by seed, awkward on purpose: one-instant windows, legs with no way, no triangle inequality.

#include "routing/order/problem.hpp"

#include <cstdint>

namespace order_tests {

/// What a family of problems may hold.
struct Family {
    std::uint32_t visits_from = 3;
    std::uint32_t visits_to = 5;
    std::uint32_t days = 1;
    std::uint32_t meals = 0;   ///< at most, a day
    std::uint32_t options = 2; ///< at most, a visit
    std::uint32_t windows = 2; ///< at most, an option
    int day_length = 60;       ///< seconds
    int window_length = 25;    ///< at most
    bool call_limits = false;  ///< meals within so long of the call, and meals a later call makes not due
    bool carried_meals = false;
    bool open_ends = false; ///< days that start nowhere or end anywhere
    bool running_day = false;
    bool meal_hours = false; ///< meal points that are not open at every hour
    bool varying = false;    ///< some legs depend on the hour: roads shut for a time, or for good, and slow hours
};

/// The same problem for the same seed on every machine.
routing::order::Problem random_problem(const Family& family, std::uint32_t seed);

} // namespace order_tests
