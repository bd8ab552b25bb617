#include "geo/sky/moonlit_sky.hpp"

#include <cmath>
#include <numbers>

namespace geo::sky {

namespace {

double radians(Degrees angle) {
    return angle.value * std::numbers::pi / 180.0;
}

/// Optical path in air masses; their formula 3, finite at the horizon.
double air_masses(Degrees zenith_distance) {
    const double sine = std::sin(radians(zenith_distance));
    return 1.0 / std::sqrt(1.0 - 0.96 * sine * sine);
}

/// Nanolamberts, their formulas 15 and 20-21.
double moonlight(const MoonlitView& view, Degrees phase_angle, double extinction) {
    const double phase = std::abs(phase_angle.value);
    const double moon = std::pow(10.0, -0.4 * (3.84 + 0.026 * phase + 4e-9 * std::pow(phase, 4.0)));
    const double cosine = std::cos(radians(view.separation));
    const double scattered =
        std::pow(10.0, 5.36) * (1.06 + cosine * cosine) + std::pow(10.0, 6.15 - view.separation.value / 40.0);
    const double reaching = std::pow(10.0, -0.4 * extinction * air_masses(view.moon_zenith_distance));
    const double turned_here = 1.0 - std::pow(10.0, -0.4 * extinction * air_masses(view.zenith_distance));
    return scattered * moon * reaching * turned_here;
}

// Nanolamberts to magnitudes, their formula 1 (after Garstang).
double magnitude(double nanolamberts) {
    return (20.7233 - std::log(nanolamberts / 34.08)) / 0.92104;
}
double nanolamberts(double magnitude) {
    return 34.08 * std::exp(20.7233 - 0.92104 * magnitude);
}

} // namespace

SkyMagnitude moonlit_sky(const MoonlitView& view, Degrees phase_angle, double extinction) {
    return {magnitude(moonlight(view, phase_angle, extinction))};
}

SkyMagnitude sky_brightening(Degrees moon_altitude, Degrees phase_angle) {
    if (moon_altitude.value < 0.0)
        return {0.0};
    constexpr double dark_zenith = 21.6;
    constexpr double extinction = 0.2;
    const Degrees from_zenith{90.0 - moon_altitude.value};
    const double dark = nanolamberts(dark_zenith);
    const double lit = moonlight({{0.0}, from_zenith, from_zenith}, phase_angle, extinction);
    return {dark_zenith - magnitude(dark + lit)};
}

} // namespace geo::sky
