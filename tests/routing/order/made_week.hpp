#pragma once
/// Invented weeks of the size crews ask about: scenes in their light, lunches and beds among many places.

#include "routing/order/problem.hpp"

#include <cstdint>

namespace order_tests {

struct WeekSize {
    std::uint32_t scenes = 40;
    std::uint32_t days = 5;
    std::uint32_t beds = 60;        ///< to choose from each night but the last, which ends at the base
    std::uint32_t meal_points = 80; ///< for lunch
    int musts_percent = 30;
    int width_km = 120; ///< of the land; it is three quarters as high
};

/// The same problem for the same seed on every machine. About half of the scenes have their light on every day, the
/// others on some days only.
routing::order::Problem made_week(const WeekSize& size, std::uint32_t seed);

} // namespace order_tests
