#pragma once
/// When the sun shines on a place over its ridges, and when they hide it.
///
///     const auto sun = geo::terrain::direct_sun(arch, *horizon, day);
///     for (const auto& span : sun.direct) ...        // several where the ridge has gaps
///     for (const auto& span : sun.open_shade) ...    // up, but behind the ground
///
/// Direct sun is when the upper limb, lifted by the air, stands above the horizon's angle at its azimuth:
/// h + sd + R(h + sd) > angle(azimuth), R for standard air (`geo/sky/refraction.hpp`). Spans are exact to a second
/// against the profile. What moves them in truth: the profile's own errors (a tenth of a degree is 30 s of sun at the
/// equator, a minute at latitude 60), trees and houses, and for low ridges the air.

#include "geo/interval.hpp"
#include "geo/sky/precise_instant.hpp"
#include "geo/sky/sky_position.hpp"
#include "geo/terrain/horizon.hpp"

#include <functional>

namespace geo::terrain {

/// A disc in the sky: sun or moon.
struct DiscSight {
    sky::SkyPosition centre; ///< topocentric, airless
    Degrees semidiameter;
};
using DiscPath = std::function<DiscSight(sky::PreciseInstant)>;

/// The sun's from a place.
DiscPath sun_path(Coordinate place, Metres elevation);

/// Spans of `span` in which the disc's upper limb stands above the ground. Nothing longer than a second is missed:
/// stretches are cut in halves until the disc's whole way in one lies above or below the ground, its speed against the
/// sky being at most 15.3 degrees an hour (the moon's, parallax included, 14.8).
Intervals above_terrain(const DiscPath& disc, const HorizonProfile& horizon, Interval span);

struct TerrainSun {
    Intervals direct;
    Intervals open_shade; ///< above the flat horizon (upper limb, `HorizonRule::upper_limb`) but behind the ground
    /// Of `direct`, where the ground in the sun's direction is not known to the end of the range: a ridge beyond may
    /// still hide it.
    Intervals uncertain;
};

/// Within `span`, cut at its ends; all empty when the sun stays down.
TerrainSun direct_sun(const DiscPath& sun, const HorizonProfile& horizon, Interval span);
TerrainSun direct_sun(Coordinate place, const HorizonProfile& horizon, Interval span);

} // namespace geo::terrain
