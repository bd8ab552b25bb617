#pragma once
/// What light is asked for: a name, a range of the sun's altitude, clock times, or a wish that joins several of these.
///
///     geo::LightRequest evening = geo::LightName::golden_evening;
///     geo::LightWish backlit{.name = geo::LightName::low_sun, .direction = geo::SunBeside{240_deg}};
///
/// What each name means: light_name.cpp's table and docs/light.md.

#include "geo/camera.hpp"
#include "geo/local_time.hpp"
#include "geo/units.hpp"

#include <optional>
#include <string_view>
#include <variant>
#include <vector>

namespace geo {

enum class LightName {
    sunrise,
    sunset,
    golden_morning,
    golden_evening,
    golden,
    blue_morning,
    blue_evening,
    blue,
    day,
    high_sun,
    low_sun,
    soft,
    direct_sun,
    open_shade,
    night,
    dark_sky,
    moonlight,
    any
};

enum class HalfDay { morning, evening }; ///< sun climbing, sun sinking

/// Centre of the sun between two altitudes, airless; optionally only while it climbs or only while it sinks.
struct SunAltitudeRange {
    Degrees low;
    Degrees high;
    std::optional<HalfDay> when;

    friend bool operator==(const SunAltitudeRange&, const SunAltitudeRange&) = default;
};

/// Between two clock times of the location's zone; `until` earlier than `from` runs past midnight. Clock changes by the
/// rule of local_time.hpp.
struct ClockRange {
    ClockTime from;
    ClockTime until;

    friend bool operator==(const ClockRange&, const ClockRange&) = default;
};

/// The moon above the horizon, or above an airless altitude of its centre, and lit so much.
struct MoonUp {
    std::optional<Degrees> above; ///< nothing: upper limb above the horizon
    double lit_from = 0.0;        ///< illuminated fraction
    double lit_until = 1.0;

    friend bool operator==(const MoonUp&, const MoonUp&) = default;
};

/// The moon below the horizon, or lit no more than so much.
struct MoonAbsent {
    double lit_allowed = 0.0;

    friend bool operator==(const MoonAbsent&, const MoonAbsent&) = default;
};

using MoonWish = std::variant<MoonUp, MoonAbsent>;

/// How good a light is over the sun's altitude: straight lines between points of rising altitude, level beyond the
/// first and last. No points: 1 throughout.
struct QualityPoint {
    Degrees sun_altitude;
    double quality; ///< 0 to 1

    friend bool operator==(const QualityPoint&, const QualityPoint&) = default;
};
using QualityCurve = std::vector<QualityPoint>;

/// A name, narrowed or with other limits than its own. All that is given must hold at once.
struct LightWish {
    LightName name = LightName::any;
    std::optional<SunAltitudeRange> sun{}; ///< instead of the name's limits
    std::optional<ClockRange> clock{};
    std::optional<MoonWish> moon{}; ///< instead of the name's
    std::optional<SunDirection> direction{};
    std::optional<QualityCurve> quality{}; ///< instead of the name's
    double min_quality = 0.0;

    friend bool operator==(const LightWish&, const LightWish&) = default;
};

using LightRequest = std::variant<LightName, SunAltitudeRange, ClockRange, LightWish>;

/// Name as shoot files write it ("golden-evening").
std::string_view to_string(LightName name);
std::optional<LightName> parse_light_name(std::string_view text);
/// All names, in the order of the enumeration.
const std::vector<LightName>& light_names();
/// The sun-altitude limits a name stands for, to show beside it; nothing for `any`. Where a light begins or ends with
/// sunrise or sunset the limit is the textbook -50'; windows are reckoned with the sun's true size.
std::optional<SunAltitudeRange> sun_range(LightName name);
/// Whether it can only be told with the ground's own horizon: on a flat one `direct-sun` is `day` and `open-shade`
/// never.
bool needs_terrain(LightName name);

} // namespace geo
