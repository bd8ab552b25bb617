#include "geo/sky/sun.hpp"

#include <erfa.h>
#include <erfam.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>

namespace geo::sky {

namespace {

constexpr double light_days_per_au = ERFA_AULT / ERFA_DAYSEC;

double length(const CelestialVector& vector) {
    return std::sqrt(vector[0] * vector[0] + vector[1] * vector[1] + vector[2] * vector[2]);
}

/// Sun as seen from the Earth's centre, light time and aberration applied, on the axes of the GCRS.
CelestialVector apparent_in_gcrs(JulianDate terrestrial) {
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

CelestialVector rotated(double matrix[3][3], CelestialVector vector) {
    CelestialVector result;
    eraRxp(matrix, vector.data(), result.data());
    return result;
}

/// Daily places, each at 12h TT, kept in a ring: a place depends on its day alone, so what a thread asked before
/// changes the time an answer takes and never the answer.
const CelestialVector& daily_sun_vector(std::int64_t day) {
    struct Entry {
        std::int64_t day = INT64_MIN;
        CelestialVector sun{};
    };
    constexpr std::int64_t entries = 1024;
    thread_local std::array<Entry, entries> ring;
    Entry& entry = ring[static_cast<std::size_t>(((day % entries) + entries) % entries)];
    if (entry.day != day) {
        entry.sun = computed_sun_vector({ERFA_DJ00, static_cast<double>(day)});
        entry.day = day;
    }
    return entry.sun;
}

} // namespace

CelestialVector computed_sun_vector(JulianDate terrestrial) {
    double to_intermediate[3][3];
    eraC2i06a(terrestrial.whole, terrestrial.fraction, to_intermediate);
    return rotated(to_intermediate, apparent_in_gcrs(terrestrial));
}

CelestialVector sun_vector(PreciseInstant when) {
    const JulianDate terrestrial = terrestrial_time(when);
    const double days = (terrestrial.whole - ERFA_DJ00) + terrestrial.fraction;
    const double before = std::floor(days);
    const double x = days - before;
    // Lagrange through the days -2..3 around; the denominators are those products at the nodes.
    constexpr std::array denominators{-120.0, 24.0, -12.0, 12.0, -24.0, 120.0};
    CelestialVector sun{};
    for (int node = 0; node < 6; ++node) {
        double weight = 1.0 / denominators[static_cast<std::size_t>(node)];
        for (int other = 0; other < 6; ++other)
            if (other != node)
                weight *= x - (other - 2);
        const CelestialVector& place = daily_sun_vector(static_cast<std::int64_t>(before) + node - 2);
        for (std::size_t i = 0; i < 3; ++i)
            sun[i] += weight * place[i];
    }
    return sun;
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
    const CelestialVector sun = apparent_in_gcrs(terrestrial);

    double to_equator_of_date[3][3];
    eraPnm06a(terrestrial.whole, terrestrial.fraction, to_equator_of_date);
    double right_ascension = 0.0;
    double declination = 0.0;
    eraC2s(rotated(to_equator_of_date, sun).data(), &right_ascension, &declination);

    double to_mean_ecliptic[3][3];
    eraEcm06(terrestrial.whole, terrestrial.fraction, to_mean_ecliptic);
    double longitude = 0.0;
    double latitude = 0.0;
    eraC2s(rotated(to_mean_ecliptic, sun).data(), &longitude, &latitude);

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
