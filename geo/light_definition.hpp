#pragma once
/// What each light's name means, one row a name.
///
///     const auto& golden = geo::light_definition(geo::LightName::golden);
///
/// To add a light: a member of `LightName`, a row in light_name.cpp, a row in docs/light.md.

#include "geo/light_window.hpp"
#include "geo/sky/sun_view.hpp"

#include <optional>
#include <string_view>

namespace geo {

/// Between two lines, both included; optionally only while the sun climbs or only while it sinks.
struct SunBand {
    sky::SunLine low;
    sky::SunLine high;
    std::optional<HalfDay> when;
};

struct LightDefinition {
    LightName name;
    std::string_view text;       ///< as shoot files write it
    std::optional<SunBand> band; ///< nothing where the sun does not matter
    std::string_view source;     ///< of the limits, or "common practice, no source"
};

const LightDefinition& light_definition(LightName name);

} // namespace geo
