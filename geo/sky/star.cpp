#include "geo/sky/star.hpp"

#include "geo/sky/celestial_axes.hpp"

#include <cmath>
#include <numbers>

namespace geo::sky {

CelestialVector star_vector(StarPlace star, PreciseInstant when) {
    constexpr double far_away = 1e12; // astronomical units: no parallax left
    constexpr double radians = std::numbers::pi / 180.0;
    const double ascension = star.right_ascension.value * radians;
    const double declination = star.declination.value * radians;
    return on_axes_of_date({far_away * std::cos(declination) * std::cos(ascension),
                            far_away * std::cos(declination) * std::sin(ascension), far_away * std::sin(declination)},
                           terrestrial_time(when));
}

SkyPosition star_position(StarPlace star, Coordinate place, Metres elevation, Instant when) {
    return Observer(place, elevation).view(star_vector(star, precise(when)), precise(when));
}

} // namespace geo::sky
