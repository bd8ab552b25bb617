#pragma once
/// All light of one place on one day: the windows of every light name, and what sun and moon do.
///
///     const LightDay light = cli::light_of_day(arch, day, zone);

#include "geo/light_quality.hpp"
#include "geo/light_window.hpp"
#include "geo/local_time.hpp"

#include <optional>
#include <string>
#include <vector>

namespace cli {

struct LightRow {
    geo::LightName name{};
    std::optional<geo::SunAltitudeRange> range; ///< nothing for `any`
    geo::LightWindows windows;
    std::vector<std::optional<geo::BestTime>> best{}; ///< one a window; see best_minute_of
};

/// The sun crosses a line or stands highest; the moon rises or sets.
struct SkyMoment {
    std::string name; ///< "civil dawn", "sunrise", "highest sun", "moonrise"
    geo::Instant when;
    geo::Degrees altitude; ///< of the centre, airless
    geo::Degrees azimuth;
};

/// A line the sun does not cross on that day.
struct UncrossedLine {
    std::string name; ///< "sunrise and sunset", "civil twilight's end"
    bool above = false;
};

struct MoonDay {
    std::vector<SkyMoment> moments; ///< inside the civil day, in order of time
    bool up = false;                ///< at the day's start
    std::string phase;              ///< "waxing gibbous"
    double lit = 0.0;               ///< share of the disc, like the phase at the midnight that ends the day
};

struct LightDay {
    geo::CivilDate date;
    std::vector<LightRow> rows;
    std::vector<SkyMoment> moments; ///< inside the civil day, in order of time
    std::vector<UncrossedLine> uncrossed;
    MoonDay moon;
    /// The centre of the Milky Way at its highest while the sky is dark; nothing when it stays below the horizon then.
    std::optional<SkyMoment> milky_way;
};

/// The minute of a window with the best quality; nothing where all minutes are much alike.
std::optional<geo::BestTime> best_minute_of(const geo::LightWish& light, geo::Coordinate place, geo::Interval window);

/// The lights told: all, or all that a flat horizon can tell.
std::vector<geo::LightName> listed_lights(bool with_terrain);

/// At sea level; flat horizon but for what `around` tells. Sunrise and sunset: upper limb on the refracted horizon;
/// civil, nautical and astronomical twilight: centre at -6, -12, -18 degrees (USNO).
LightDay light_of_day(geo::Coordinate place, geo::CivilDate day, const geo::TimeZone& zone,
                      const geo::Surroundings& around = {});
/// So many days running; quicker than one by one.
std::vector<LightDay> light_of_days(geo::Coordinate place, geo::CivilDate first, int days, const geo::TimeZone& zone,
                                    const geo::Surroundings& around = {});

/// "-4° to 6°, evening"; "any height" for no limits.
std::string range_text(const std::optional<geo::SunAltitudeRange>& range);
/// The same with what the name asks of the moon: "below -18°, moon down or at most 10% lit".
std::string limits_text(const LightRow& row);

/// "12° left of the camera", "ahead of the camera", "behind the camera".
std::string beside_camera_text(geo::Degrees azimuth, geo::Degrees facing);

/// "19:58", a minute between those that are printed for its window.
std::string best_text(geo::Instant best, geo::Interval window, geo::CivilDate day, const geo::TimeZone& zone);
/// Those of a row joined by commas; where no window has one, "".
std::string best_text(const LightRow& row, geo::CivilDate day, const geo::TimeZone& zone);

/// "19:41–20:33", several joined by commas; "never", "all day".
std::string windows_text(const geo::LightWindows& windows, geo::CivilDate day, const geo::TimeZone& zone);

} // namespace cli
