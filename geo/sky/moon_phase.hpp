#pragma once
/// New moon, quarters, full moon.
///
///     const geo::Instant full = geo::sky::next_moon_phase(geo::sky::MoonPhase::full, now);
///     geo::sky::phase_words(geo::sky::moon_elongation(t)) // "waxing gibbous"

#include "geo/units.hpp"

#include <string_view>

namespace geo::sky {

/// Apparent ecliptic longitude of the moon minus the sun's 0, 90, 180, 270 degrees.
/// Source: US Naval Observatory, phases of the moon; Meeus, Astronomical Algorithms (1998), chapter 49.
enum class MoonPhase { new_moon, first_quarter, full, last_quarter };

/// The first at or after `from`, to the nearest second; half a minute off at most, by the moon's theory.
Instant next_moon_phase(MoonPhase phase, Instant from);

/// "new moon", "first quarter", "full moon", "last quarter".
std::string_view to_string(MoonPhase phase);

/// What the moon looks like at an elongation: one of the four within 6 degrees (half a day) of it, else "waxing
/// crescent", "waxing gibbous", "waning gibbous", "waning crescent".
std::string_view phase_words(Degrees elongation);

} // namespace geo::sky
