#include "geo/sky/moon_view.hpp"

namespace geo::sky {

Degrees MoonView::altitude(PreciseInstant when) const {
    return observer_.view(moon_vector(when), when).altitude;
}

Degrees MoonView::height_above_horizon(PreciseInstant when) const {
    constexpr Degrees horizon_refraction{34.0 / 60.0};
    const CelestialVector moon = moon_vector(when);
    return observer_.view(moon, when).altitude + horizon_refraction + moon_semidiameter(moon);
}

} // namespace geo::sky
