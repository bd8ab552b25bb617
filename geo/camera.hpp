#pragma once
/// Sun and camera: from which side the subject is lit, and whether the sun is in the picture.
///
///     const geo::SunBeside wish{240_deg, geo::SunSide::behind};
///     geo::margin(wish, sun) >= 0.0 // wanted there
///
/// "Behind", "side" and "front" tell where the sun stands seen from the subject, which faces the camera:
///
/// - behind: behind the subject, so the camera looks towards the sun; the subject is backlit;
/// - side:   to its left or right;
/// - front:  in front of the subject, so at the camera's back; the subject is lit from the front.
///
/// All azimuths clockwise from true north; the camera's is the way its lens points.

#include "geo/sky/sky_position.hpp"

#include <variant>

namespace geo {

enum class SunSide { behind, side, front };

/// The sun's azimuth less the camera's within `behind_within` either way is behind the subject, beyond `front_beyond`
/// in front of it, else to its side. Defaults: common practice, no source.
struct SunBeside {
    Degrees facing; ///< of the camera
    SunSide side = SunSide::behind;
    Degrees behind_within{45.0};
    Degrees front_beyond{135.0};

    friend bool operator==(const SunBeside&, const SunBeside&) = default;
};

/// Clockwise from `from` to `until`, through north where `until` is the smaller.
struct AzimuthRange {
    Degrees from;
    Degrees until;

    friend bool operator==(const AzimuthRange&, const AzimuthRange&) = default;
};

using Millimetres = Quantity<struct MillimetreUnit>;

/// A rectilinear lens focused far away.
struct Lens {
    Millimetres focal_length;
    Millimetres sensor_width{36.0};
    Millimetres sensor_height{24.0};

    friend bool operator==(const Lens&, const Lens&) = default;
};

/// The centre of the sun inside the picture.
struct SunInFrame {
    Degrees facing;
    Lens lens;
    Degrees pitch{0.0}; ///< of the lens above the horizontal

    friend bool operator==(const SunInFrame&, const SunInFrame&) = default;
};

using SunDirection = std::variant<SunBeside, AzimuthRange, SunInFrame>;

/// The sun's azimuth less the camera's, above -180 to 180: negative left of where it looks, positive right.
Degrees relative_azimuth(Degrees sun_azimuth, Degrees facing);

/// 2 atan(width / 2 f) and the same of the height.
Degrees horizontal_field_of_view(const Lens& lens);
Degrees vertical_field_of_view(const Lens& lens);

/// Between the sun and the lens axis, 0 to 180.
Degrees angle_from_axis(sky::SkyPosition sun, Degrees facing, Degrees pitch);

/// Zero or more where the wish is met, less where not; continuous as the sun moves (but for the azimuth at the zenith),
/// so that a search for its zeros finds when the wish begins and ends. No unit.
double margin(const SunDirection& wish, sky::SkyPosition sun);

} // namespace geo
