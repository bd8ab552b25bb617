#include "geo/sky/sun_view.hpp"

namespace geo::sky {

namespace {

// Horizon refraction and mean semidiameter of almanacs (Astronomical Almanac, glossary: sunrise, sunset).
constexpr Degrees horizon_refraction{34.0 / 60.0};
constexpr Degrees mean_semidiameter{16.0 / 60.0};

} // namespace

Degrees height_above(const SunLine& line, const SunLook& sun) {
    if (const auto* altitude = std::get_if<Degrees>(&line))
        return sun.altitude - *altitude;
    const Degrees size = std::get<HorizonRule>(line) == HorizonRule::fixed_50 ? mean_semidiameter : sun.semidiameter;
    return sun.altitude + horizon_refraction + size;
}

SunLook SunView::look(PreciseInstant when) const {
    const CelestialVector sun = sun_vector(when);
    return {observer_.view(sun, when).altitude, sun_semidiameter(sun)};
}

Degrees SunView::altitude(PreciseInstant when) const {
    return observer_.view(sun_vector(when), when).altitude;
}

Degrees SunView::height_above(const SunLine& line, PreciseInstant when) const {
    return sky::height_above(line, look(when));
}

} // namespace geo::sky
