#pragma once
/// How high the ground stands against the sky, all round a place.
///
///     const auto horizon = geo::terrain::find_horizon(sheet, arch);
///     if (horizon) ... horizon->angle(241_deg)   // the ridge in the west-south-west
///
/// Along a geodesic the ground of height z at distance s stands at the angle
/// atan((z - eye) / s - s (1 - k) / (2 R)): k = 0.13 for how the air bends light (Gauss's mean coefficient), R the
/// ellipsoid's radius of curvature in that direction (Euler). The short formula leaves out 2.8" at 10 km. Heights are
/// bilinear, so sharp crests are clipped by about flank slope x half a post spacing / distance; an error of dz metres
/// in a height turns the angle by dz / distance. Not known to any elevation model: single trees, houses, fences.
///
/// Directions are 720, half a degree apart; what is narrower between two of them is missed. Cost: 720 x range / step
/// samples at worst; ground that lies too low to matter is passed over in blocks, without changing the result.

#include "geo/terrain/elevation_sheet.hpp"

#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

namespace geo::terrain {

struct HorizonSettings {
    Metres eye_height{1.7};   ///< above the ground
    Metres range{60000.0};    ///< how far to look
    double refraction = 0.13; ///< coefficient k, 0 for no air
    friend bool operator==(const HorizonSettings&, const HorizonSettings&) = default;
};

/// Counts up whenever the way of reckoning changes, so that horizons kept from before are found again.
constexpr std::uint32_t horizon_method_version = 1;

/// How far a line of sight that starts level has sunk below the curved ground's level surface: s^2 (1 - k) / (2 R).
Metres curvature_drop(Metres distance, Metres radius, double refraction);

/// The angle at which ground that lies `rise` above the eye stands at `distance`.
Degrees sight_angle(Metres rise, Metres distance, Metres radius, double refraction);

/// Radius of curvature of the WGS 84 ellipsoid in a direction (Euler's formula).
Metres radius_of_curvature(Degrees latitude, Degrees azimuth);

struct HorizonPoint {
    Degrees angle;   ///< above the astronomical horizon as the eye sees it; below 0 from a summit
    Metres distance; ///< of the ground that stands so high; 0 when no ground is known at all
    Metres known_to; ///< how far all ground was known; the range when there was no gap
    friend bool operator==(const HorizonPoint&, const HorizonPoint&) = default;
};

class HorizonProfile {
public:
    static constexpr std::size_t azimuths = 720;

    /// Clockwise from true north, every half degree; 720 of them.
    HorizonProfile(std::vector<HorizonPoint> points, Metres eye_elevation, HorizonSettings settings);

    /// The same angle all round, nothing unknown.
    static HorizonProfile level(Degrees angle);

    const std::vector<HorizonPoint>& points() const { return points_; }
    Metres eye_elevation() const { return eye_elevation_; } ///< above sea level
    const HorizonSettings& settings() const { return settings_; }

    /// Linear between the azimuths at either side; any azimuth, also beyond 0..360.
    Degrees angle(Degrees azimuth) const;
    /// The lowest and highest angle from `azimuth` - `half_width` to `azimuth` + `half_width`.
    std::pair<Degrees, Degrees> lowest_and_highest(Degrees azimuth, Degrees half_width) const;
    /// The nearer end of what is known at the azimuths at either side.
    Metres known_to(Degrees azimuth) const;
    /// Distance of the ridge at the nearest azimuth.
    Metres ridge_distance(Degrees azimuth) const;
    /// Least of all directions; the range when there is no gap at all.
    Metres known_all_round() const;

private:
    std::vector<HorizonPoint> points_;
    Metres eye_elevation_;
    HorizonSettings settings_;
};

/// Nothing when the ground at the place itself is unknown. Where the ground's known part lies lower than the sea's
/// horizon would (data end, or land falls to the range's end and the sea begins), that dip is the angle: the Earth
/// itself hides what is below. Throws std::domain_error for an invalid coordinate.
std::optional<HorizonProfile> find_horizon(const ElevationSheet& sheet, Coordinate place,
                                           HorizonSettings settings = {});

} // namespace geo::terrain
