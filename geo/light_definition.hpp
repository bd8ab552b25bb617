#pragma once
/// What each light's name means, one row a name.
///
///     const auto& golden = geo::light_definition(geo::LightName::golden);
///
/// To add a light: a member of `LightName`, a row in light_name.cpp, its curve in quality_curve.cpp, a row in
/// docs/light.md.

#include "geo/light_request.hpp"
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

/// What a light wants of the ground's own horizon.
enum class Ground {
    any,
    sun_clear, ///< the sun above it
    sun_hidden ///< the sun behind it
};

struct LightDefinition {
    LightName name;
    std::string_view text;       ///< as shoot files write it
    std::optional<SunBand> band; ///< nothing where the sun does not matter
    std::string_view source;     ///< of the limits, or "common practice, no source"
    std::optional<MoonWish> moon{};
    Ground ground = Ground::any;
    std::optional<SunBand> overcast_band{}; ///< instead of `band` under a closed cloud
};

const LightDefinition& light_definition(LightName name);

/// How good the light is over the sun's altitude. Common practice, no source; the table stands in docs/light.md.
const QualityCurve& quality_curve(LightName name);

} // namespace geo
