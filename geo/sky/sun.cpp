#include "geo/sky/sun.hpp"

#include "geo/sky/celestial_axes.hpp"
#include "geo/sky/node_table.hpp"

#include <erfa.h>
#include <erfam.h>

#include <cmath>

namespace geo::sky {

namespace {

constexpr double light_days_per_au = ERFA_AULT / ERFA_DAYSEC;

CelestialVector rotated(double matrix[3][3], CelestialVector vector) {
    CelestialVector result;
    eraRxp(matrix, vector.data(), result.data());
    return result;
}

} // namespace

CelestialVector apparent_sun_in_gcrs(JulianDate terrestrial) {
    double heliocentric[2][3];
    double barycentric[2][3];
    // Its one complaint is a date outside 1900-2100, told in the header.
    eraEpv00(terrestrial.whole, terrestrial.fraction, heliocentric, barycentric);

    const double distance = eraPm(heliocentric[0]);
    const double light_time = distance * light_days_per_au;
    double seen[3];
    double earth_velocity[3];
    for (int i = 0; i < 3; ++i) {
        // While the light travels the sun itself moves about the barycentre, 0.01 arcseconds.
        const double sun_velocity = barycentric[1][i] - heliocentric[1][i];
        seen[i] = -heliocentric[0][i] - light_time * sun_velocity;
        earth_velocity[i] = barycentric[1][i] * light_days_per_au;
    }
    double seen_distance = 0.0;
    double direction[3];
    eraPn(seen, &seen_distance, direction);
    const double speed = eraPm(earth_velocity);
    double aberrated[3];
    eraAb(direction, earth_velocity, distance, std::sqrt(1.0 - speed * speed), aberrated);
    return {aberrated[0] * seen_distance, aberrated[1] * seen_distance, aberrated[2] * seen_distance};
}

CelestialVector computed_sun_vector(JulianDate terrestrial) {
    return computed_on_axes_of_date(apparent_sun_in_gcrs(terrestrial), terrestrial);
}

CelestialVector sun_vector(PreciseInstant when) {
    // A day's step is enough for 5e-5 arcseconds: the Earth goes round smoothly.
    constexpr std::size_t days_kept = 1024;
    thread_local NodeTable<3> daily(1, days_kept, computed_sun_vector);
    return daily.at(terrestrial_time(when));
}

Degrees sun_semidiameter(const CelestialVector& sun) {
    constexpr double radius = 696'000e3; // metres; IAU 1976 value used by almanacs (Astronomical Almanac, section K)
    return {std::asin(radius / (length(sun) * ERFA_DAU)) * ERFA_DR2D};
}

SkyPosition sun_position(Coordinate place, Metres elevation, Instant when) {
    const PreciseInstant instant = precise(when);
    return Observer(place, elevation).view(sun_vector(instant), instant);
}

SunPlace sun_place(PreciseInstant when) {
    const JulianDate terrestrial = terrestrial_time(when);
    const CelestialVector sun = apparent_sun_in_gcrs(terrestrial);

    double to_equator_of_date[3][3];
    eraPnm06a(terrestrial.whole, terrestrial.fraction, to_equator_of_date);
    double right_ascension = 0.0;
    double declination = 0.0;
    eraC2s(rotated(to_equator_of_date, sun).data(), &right_ascension, &declination);

    double longitude = 0.0;
    double latitude = 0.0;
    eraC2s(on_ecliptic_of_date(sun, terrestrial).data(), &longitude, &latitude);

    SunPlace place;
    place.right_ascension = {eraAnp(right_ascension) * ERFA_DR2D};
    place.declination = {declination * ERFA_DR2D};
    place.ecliptic_longitude = {eraAnp(longitude + nutation(when).longitude.value * ERFA_DD2R) * ERFA_DR2D};
    place.distance = {length(sun)};
    const double universal_day = std::fmod(when.time_since_epoch().count() / ERFA_DAYSEC, 1.0);
    const double mean_sun_hour_angle = universal_day * 360.0 - 180.0;
    const double hour_angle = apparent_sidereal_time(when).value - place.right_ascension.value;
    constexpr double seconds_per_degree = 240.0;
    place.equation_of_time =
        PreciseSeconds{std::remainder(hour_angle - mean_sun_hour_angle, 360.0) * seconds_per_degree};
    return place;
}

} // namespace geo::sky
