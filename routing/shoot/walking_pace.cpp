#include "routing/shoot/walking_pace.hpp"

#include "routing/roads/foot/foot_rules.hpp"

#include <cassert>
#include <cmath>

namespace routing::shoot {

namespace {

constexpr double walker_kg = 75.0;

double level_pace_kmh() {
    return 6.0 * std::exp(-3.5 * 0.05);
}

/// Watts of standing and carrying, and watts for each (m/s)^2 of walking; hard ground, no grade.
double standing_watts(double load) {
    return 1.5 * walker_kg + 2.0 * (walker_kg + load) * (load / walker_kg) * (load / walker_kg);
}
double walking_watts(double load) {
    return 1.5 * (walker_kg + load);
}

} // namespace

double load_factor(double load_kg) {
    assert(load_kg >= 0.0 && load_kg <= 60.0);
    const double free_speed = level_pace_kmh() / 3.6;
    const double effort = standing_watts(0.0) + walking_watts(0.0) * free_speed * free_speed;
    return std::sqrt((effort - standing_watts(load_kg)) / walking_watts(load_kg)) / free_speed;
}

geo::Seconds walking_time(roads::Milliseconds at_map_pace, double load_kg) {
    const double pace = level_pace_kmh() * load_factor(load_kg);
    return geo::Seconds{
        std::llround(std::ceil(static_cast<double>(at_map_pace) / 1000.0 * roads::foot::flat_pace.value / pace))};
}

} // namespace routing::shoot
