#pragma once
/// When a place has a given light: heights of sun and moon, the camera's side and clock times turned into spans of
/// time.
///
///     const auto windows = geo::light_windows(geo::LightName::golden_evening, arch, 0_m, day, zone);
///     if (windows.presence == geo::Presence::never) ...
///
/// Flat horizon at sea level (no dip, however high the place) and no weather, but for what `Surroundings` tells. Names,
/// limits and their source are in light_name.cpp's table and docs/light.md; limits belong to the light.

#include "geo/coordinate.hpp"
#include "geo/interval.hpp"
#include "geo/light_request.hpp"
#include "geo/local_time.hpp"
#include "geo/place_sky.hpp"

#include <functional>
#include <vector>

namespace geo {

/// "No" and "all day" are answers, not numbers.
enum class Presence { some, never, all_day };

struct LightWindows {
    Presence presence = Presence::never;
    Intervals
        intervals; ///< every span that touches the civil day, not cut at midnight; cut 12 h either side of the day
};

/// What else stands round a place.
struct Surroundings {
    /// A closed cloud: `soft` then lasts all day, and what wants the sun clear of the ground never comes.
    bool overcast = false;
    /// Spans within the asked one in which the sun stands clear of the ground's own horizon; nothing to ask: flat.
    std::function<Intervals(Interval)> direct_sun{};
};

/// Spans on `day` (civil day of `zone`) with the light asked for; a list of requests is joined ("any of these").
/// Good to about a second against the definitions; real refraction moves low sun by a minute or more. A window in the
/// middle of the night belongs to both days it touches. A day the zone skipped has none. A range whose low end lies
/// above its high end, or is not a number, is never met. Throws std::domain_error for an invalid coordinate.
LightWindows light_windows(const LightRequest& request, Coordinate place, Metres elevation, CivilDate day,
                           const TimeZone& zone, const Surroundings& around = {});
LightWindows light_windows(const std::vector<LightRequest>& any_of, Coordinate place, Metres elevation, CivilDate day,
                           const TimeZone& zone, const Surroundings& around = {});

/// The same for many days or many lights of one place: `sky` covers the day and `window_margin` either side of it.
LightWindows light_windows(const std::vector<LightRequest>& any_of, PlaceSky& sky, CivilDate day, const TimeZone& zone,
                           const Surroundings& around = {});

/// How far beyond a civil day its windows are followed.
inline constexpr Seconds window_margin = std::chrono::hours{12};

} // namespace geo
