#include "geo/sky/moon.hpp"

#include "geo/sky/celestial_axes.hpp"
#include "geo/sky/node_table.hpp"
#include "geo/sky/sun.hpp"

#include <erfa.h>
#include <erfam.h>

#include <algorithm>
#include <cmath>

namespace geo::sky {

namespace {

constexpr double light_days_per_au = ERFA_AULT / ERFA_DAYSEC;

/// As seen from the Earth's centre, on the axes of the GCRS, astronomical units.
CelestialVector apparent_in_gcrs(JulianDate terrestrial) {
    double place[2][3];
    eraMoon98(terrestrial.whole, terrestrial.fraction, place);
    // The moon moves 1.3 km during the 1.3 s its light takes; over that time its motion is straight.
    const double light_time = eraPm(place[0]) * light_days_per_au;
    CelestialVector seen{};
    for (std::size_t i = 0; i < 3; ++i)
        seen[i] = place[0][i] - light_time * place[1][i];
    return seen;
}

CelestialVector node(JulianDate terrestrial) {
    return on_axes_of_date(apparent_in_gcrs(terrestrial), terrestrial);
}

double longitude_of(const CelestialVector& ecliptic) {
    return std::atan2(ecliptic[1], ecliptic[0]) * ERFA_DR2D;
}

double positive(double degrees) {
    const double turned = std::fmod(degrees, 360.0);
    return turned < 0.0 ? turned + 360.0 : turned;
}

} // namespace

CelestialVector computed_moon_vector(JulianDate terrestrial) {
    return computed_on_axes_of_date(apparent_in_gcrs(terrestrial), terrestrial);
}

CelestialVector moon_vector(PreciseInstant when) {
    constexpr int nodes_a_day = 8;
    constexpr std::size_t nodes_kept = std::size_t{1024} * nodes_a_day;
    thread_local NodeTable<3> nodes(nodes_a_day, nodes_kept, node);
    return nodes.at(terrestrial_time(when));
}

Degrees moon_semidiameter(const CelestialVector& moon) {
    constexpr double radius = 1737.4e3; // metres, mean (IAU working group on cartographic coordinates)
    return {std::asin(radius / (length(moon) * ERFA_DAU)) * ERFA_DR2D};
}

SkyPosition moon_position(Coordinate place, Metres elevation, Instant when) {
    const PreciseInstant instant = precise(when);
    return Observer(place, elevation).view(moon_vector(instant), instant);
}

MoonIllumination moon_illumination(PreciseInstant when) {
    CelestialVector sun = sun_vector(when);
    CelestialVector moon = moon_vector(when);
    const double sun_distance = length(sun);
    const double apart = eraSepp(sun.data(), moon.data());
    const double angle = std::atan2(sun_distance * std::sin(apart), length(moon) - sun_distance * std::cos(apart));
    return {(1.0 + std::cos(angle)) / 2.0, {angle * ERFA_DR2D}};
}

Degrees moon_elongation(PreciseInstant when) {
    const JulianDate terrestrial = terrestrial_time(when);
    // Nutation shifts both longitudes alike.
    const double moon = longitude_of(on_ecliptic_of_date(apparent_in_gcrs(terrestrial), terrestrial));
    const double sun = longitude_of(on_ecliptic_of_date(apparent_sun_in_gcrs(terrestrial), terrestrial));
    return {positive(moon - sun)};
}

MoonPlace moon_place(PreciseInstant when) {
    const JulianDate terrestrial = terrestrial_time(when);
    CelestialVector moon = apparent_in_gcrs(terrestrial);

    double to_equator_of_date[3][3];
    eraPnm06a(terrestrial.whole, terrestrial.fraction, to_equator_of_date);
    CelestialVector equatorial{};
    eraRxp(to_equator_of_date, moon.data(), equatorial.data());
    double right_ascension = 0.0;
    double declination = 0.0;
    eraC2s(equatorial.data(), &right_ascension, &declination);

    const CelestialVector ecliptic = on_ecliptic_of_date(moon, terrestrial);
    const double distance = length(moon);
    MoonPlace place;
    place.right_ascension = {eraAnp(right_ascension) * ERFA_DR2D};
    place.declination = {declination * ERFA_DR2D};
    place.ecliptic_longitude = {positive(longitude_of(ecliptic) + nutation(when).longitude.value)};
    place.ecliptic_latitude = {std::asin(ecliptic[2] / distance) * ERFA_DR2D};
    place.distance = {distance * ERFA_DAU};
    constexpr double earth_radius = 6'378'140.0; // metres, equator; IAU 1976, as almanacs' parallaxes use
    place.horizontal_parallax = {std::asin(earth_radius / place.distance.value) * ERFA_DR2D};
    return place;
}

} // namespace geo::sky
