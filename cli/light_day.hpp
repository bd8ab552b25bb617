#pragma once
/// All light of one place on one day: the windows of every light name, and what the sun does.
///
///     const LightDay light = cli::light_of_day(arch, day, zone);

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
};

/// The sun crosses a line, or stands highest.
struct SunMoment {
    std::string name; ///< "civil dawn", "sunrise", "highest sun"
    geo::Instant when;
    geo::Degrees altitude; ///< of the centre, airless
    geo::Degrees azimuth;
};

/// A line the sun does not cross on that day.
struct UncrossedLine {
    std::string name; ///< "sunrise and sunset", "civil twilight's end"
    bool above = false;
};

struct LightDay {
    geo::CivilDate date;
    std::vector<LightRow> rows;
    std::vector<SunMoment> moments; ///< inside the civil day, in order of time
    std::vector<UncrossedLine> uncrossed;
};

/// The lights told: all that a flat horizon can tell.
std::vector<geo::LightName> listed_lights();

/// At sea level, flat horizon. Sunrise and sunset: upper limb on the refracted horizon; civil, nautical and
/// astronomical twilight: centre at -6, -12, -18 degrees (USNO).
LightDay light_of_day(geo::Coordinate place, geo::CivilDate day, const geo::TimeZone& zone);

/// "-4° to 6°, evening"; "any height" for no limits.
std::string range_text(const std::optional<geo::SunAltitudeRange>& range);

/// "19:41–20:33", several joined by commas; "never", "all day".
std::string windows_text(const geo::LightWindows& windows, geo::CivilDate day, const geo::TimeZone& zone);

} // namespace cli
