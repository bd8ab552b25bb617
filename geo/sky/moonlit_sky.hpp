#pragma once
/// How much the moon brightens the night sky.
///
///     const auto lost = geo::sky::sky_brightening(moon.altitude, illumination.phase_angle); // magnitudes at the
///     zenith
///
/// Source: Krisciunas and Schaefer, A model of the brightness of moonlight, PASP 103:1033 (1991); it claims 8 to 23 %.

#include "geo/units.hpp"

namespace geo::sky {

/// Surface brightness, visual magnitudes per square arcsecond: the larger, the darker.
using SkyMagnitude = Quantity<struct SkyMagnitudeUnit>;

/// Line of sight and moon, as angles from the zenith and between the two.
struct MoonlitView {
    Degrees zenith_distance;
    Degrees moon_zenith_distance;
    Degrees separation;
};

/// Brightness of the moon's light scattered by clean air alone. `phase_angle` 0 at full moon; `extinction` in
/// magnitudes per air mass, 0.2 at a good dark site near the sea.
SkyMagnitude moonlit_sky(const MoonlitView& view, Degrees phase_angle, double extinction);

/// By how many magnitudes the moon brightens a zenith of 21.6 (a dark site), extinction 0.2; nothing while its centre
/// is below the horizon.
SkyMagnitude sky_brightening(Degrees moon_altitude, Degrees phase_angle);

} // namespace geo::sky
