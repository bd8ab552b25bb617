#include "made_week.hpp"
#include "dice.hpp"

#include <cmath>
#include <random>

namespace order_tests {

using namespace routing::order;
using std::chrono::hours;
using std::chrono::minutes;

namespace {

/// Roads wind by a third, 60 km/h.
TravelMatrix land(Dice& dice, std::uint32_t points, int width_km) {
    std::vector<std::pair<double, double>> at;
    for (std::uint32_t p = 0; p < points; ++p) {
        const int x = dice.roll(0, 1000 * width_km);
        at.emplace_back(x, dice.roll(0, 750 * width_km));
    }
    TravelMatrix travel{points, {}};
    for (const auto& [x, y] : at)
        for (const auto& [u, v] : at) // the square root is the same on every machine, the hypotenuse need not be
            travel.seconds.push_back(
                static_cast<std::int32_t>(std::sqrt((x - u) * (x - u) + (y - v) * (y - v)) * 1.33 / (60 / 3.6)) + 60);
    return travel;
}

struct Light {
    std::vector<std::pair<int, int>> minutes; ///< of the day
};

/// Sunrise 04:30, sunset 22:10.
Light some_light(Dice& dice) {
    switch (dice.roll(0, 6)) {
    case 0:
        return {{{4 * 60, 5 * 60 + 20}}}; // golden morning
    case 1:
        return {{{21 * 60, 22 * 60}}}; // golden evening
    case 2:
        return {{{4 * 60, 5 * 60 + 20}, {21 * 60, 22 * 60}}};
    case 3:
        return {{{11 * 60, 15 * 60}}}; // high sun
    case 4:
        return {{{6 * 60, 9 * 60 + 30}, {17 * 60, 20 * 60}}}; // low sun
    default: {
        const int from = dice.roll(7, 17) * 60; // by the clock
        return {{{from, from + dice.roll(2, 5) * 60}}};
    }
    }
}

} // namespace

Problem made_week(const WeekSize& size, std::uint32_t seed) {
    Dice dice(seed * 1000 + size.scenes * 10 + size.days);
    const Instant midnight{Seconds{1'778'025'600}};
    Problem problem;
    const Point first_meal_point = 1 + size.scenes;
    const Point first_bed = first_meal_point + size.meal_points;
    problem.travel = land(dice, first_bed + size.beds, size.width_km);
    problem.turnaround = hours{9};
    for (std::uint32_t s = 0; s < size.scenes; ++s) {
        Option option{1 + s, minutes{dice.roll(4, 14) * 5}, minutes{10}, minutes{5}, {}};
        const Light light = some_light(dice);
        const bool every_day = dice.chance(50);
        for (std::uint32_t day = 0; day < size.days; ++day) {
            const bool today = dice.chance(40) || every_day || day == s % size.days;
            for (const auto& [from, until] : light.minutes)
                if (today)
                    option.windows.push_back(
                        {midnight + day * hours{24} + minutes{from}, midnight + day * hours{24} + minutes{until}});
        }
        const bool must = dice.chance(size.musts_percent);
        problem.visits.push_back({{option}, must ? 1 : 0, must ? 0 : dice.roll(2, 20), {}});
    }
    for (std::uint32_t day = 0; day < size.days; ++day) {
        const Instant begin = midnight + day * hours{24};
        Meal lunch{{begin + hours{11} + minutes{30}, begin + hours{14} + minutes{30}}, minutes{45}, hours{7}, {}};
        for (std::uint32_t p = 0; p < size.meal_points; ++p)
            lunch.candidates.push_back(first_meal_point + p);
        Day made{begin + hours{3}, begin + hours{23} + minutes{30}, std::nullopt, {}, {lunch}, {}};
        if (day == 0)
            made.start = 0;
        if (day + 1 == size.days || size.beds == 0)
            made.ends = {0};
        for (std::uint32_t b = 0; b < size.beds && day + 1 < size.days; ++b)
            made.ends.push_back(first_bed + b);
        problem.days.push_back(std::move(made));
    }
    return problem;
}

} // namespace order_tests
