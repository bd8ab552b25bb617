#pragma once
/// What a light picture draws of one day: bands of the sun's height, the ways of sun and moon.
///
///     const auto sky = cli::picture_sky(place, day, zone);

#include "cli/light_picture_fill.hpp"
#include "cli/sky_path.hpp"
#include "cli/write_light.hpp"

#include <vector>

namespace cli {

/// Between two changes of the sky.
struct SkyBand {
    geo::Interval span;
    Fill fill; ///< night to high_sun
};

struct PathPoint {
    geo::Instant when;
    geo::sky::SkyPosition at; ///< as seen, lifted by the air
    bool seen = false;        ///< above what stands round the place
};

struct BodyDay {
    std::vector<PathPoint> path;          ///< from the civil day's start to its end
    geo::Intervals seen;                  ///< those that touch the civil day, followed for half a day beyond it
    std::vector<PathPoint> appears, goes; ///< in the civil day
};

struct PictureSky {
    geo::Interval civil;
    std::vector<SkyBand> bands; ///< fill the civil day
    BodyDay sun;
    BodyDay moon;
};

/// Throws std::domain_error for an invalid coordinate. A day that the zone skipped has nothing.
PictureSky picture_sky(const LightPlace& place, geo::CivilDate day, const geo::TimeZone& zone);

/// "night", "golden, sun down".
std::string band_words(Fill fill);

} // namespace cli
