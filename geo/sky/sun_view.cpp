#include "geo/sky/sun_view.hpp"

namespace geo::sky {

namespace {

// Horizon refraction and mean semidiameter of almanacs (Astronomical Almanac, glossary: sunrise, sunset).
constexpr Degrees horizon_refraction{34.0 / 60.0};
constexpr Degrees mean_semidiameter{16.0 / 60.0};

Degrees altitude_of(const SunLine& line, const CelestialVector& sun) {
    if (const auto* altitude = std::get_if<Degrees>(&line))
        return *altitude;
    if (std::get<HorizonRule>(line) == HorizonRule::fixed_50)
        return -(horizon_refraction + mean_semidiameter);
    return -(horizon_refraction + sun_semidiameter(sun));
}

} // namespace

Degrees SunView::altitude(PreciseInstant when) const {
    return observer_.view(sun_vector(when), when).altitude;
}

Degrees SunView::height_above(const SunLine& line, PreciseInstant when) const {
    const CelestialVector sun = sun_vector(when);
    return observer_.view(sun, when).altitude - altitude_of(line, sun);
}

} // namespace geo::sky
