#pragma once
/// When a place has a given light: sun-altitude ranges and clock times turned into spans of time.
///
///     const auto windows = geo::light_windows(geo::LightName::golden_evening, arch, 0_m, day, zone);
///     if (windows.presence == geo::Presence::never) ...
///
/// Flat horizon at sea level (no dip, however high the place), no terrain, no weather. Names, limits and their source
/// are in light_name.cpp's table and docs/light.md; limits belong to the light.

#include "geo/coordinate.hpp"
#include "geo/interval.hpp"
#include "geo/local_time.hpp"

#include <optional>
#include <string>
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
    night,
    any
};

enum class HalfDay { morning, evening }; ///< sun climbing, sun sinking

/// Centre of the sun between two altitudes, airless; optionally only while it climbs or only while it sinks.
struct SunAltitudeRange {
    Degrees low;
    Degrees high;
    std::optional<HalfDay> when;
};

/// Between two clock times of the location's zone; `until` earlier than `from` runs past midnight. Clock changes by the
/// rule of local_time.hpp.
struct ClockRange {
    ClockTime from;
    ClockTime until;
};

using LightRequest = std::variant<LightName, SunAltitudeRange, ClockRange>;

/// "No" and "all day" are answers, not numbers.
enum class Presence { some, never, all_day };

struct LightWindows {
    Presence presence = Presence::never;
    Intervals
        intervals; ///< every span that touches the civil day, not cut at midnight; cut 12 h either side of the day
};

/// Name as shoot files write it ("golden-evening").
std::string_view to_string(LightName name);
std::optional<LightName> parse_light_name(std::string_view text);
/// All names, in the order of the enumeration.
const std::vector<LightName>& light_names();
/// The sun-altitude limits a name stands for, to show beside it; nothing for `any`. Where a light begins or ends with
/// sunrise or sunset the limit is the textbook -50'; windows are reckoned with the sun's true size.
std::optional<SunAltitudeRange> sun_range(LightName name);

/// Spans on `day` (civil day of `zone`) with the light asked for; a list of requests is joined ("any of these").
/// Good to about a second against the definitions; real refraction moves low sun by a minute or more. A window in the
/// middle of the night belongs to both days it touches. A day the zone skipped has none. A range whose low end lies
/// above its high end, or is not a number, is never met. Throws std::domain_error for an invalid coordinate.
LightWindows light_windows(const LightRequest& request, Coordinate place, Metres elevation, CivilDate day,
                           const TimeZone& zone);
LightWindows light_windows(const std::vector<LightRequest>& any_of, Coordinate place, Metres elevation, CivilDate day,
                           const TimeZone& zone);

} // namespace geo
