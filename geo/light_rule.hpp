#pragma once
/// A light request spelt out: everything that must hold at an instant, and how good the light then is.
///
///     const auto rule = geo::light_rule(request, overcast);
///     geo::quality(rule, sky, t)
///
/// Clock times and terrain are not in it: they are spans of time of their own.

#include "geo/light_definition.hpp"
#include "geo/place_sky.hpp"

#include <optional>

namespace geo {

/// How the moon's part counts in the quality.
enum class MoonQuality {
    none,
    brighter_is_better, ///< moonlight: the fraction lit, less while it stands below 15 degrees
    darker_is_better    ///< dark-sky: 1 less the magnitudes by which it brightens the zenith
};

struct LightRule {
    std::optional<SunBand> sun;
    std::optional<MoonWish> moon;
    std::optional<SunDirection> direction;
    Ground ground = Ground::any;
    QualityCurve curve;
    MoonQuality moon_quality = MoonQuality::none;
    double min_quality = 0.0;
};

/// `overcast`: under a closed cloud.
LightRule light_rule(const LightRequest& request, bool overcast);

/// Where sun and moon stand as the rule wants, ends on whole seconds. Direction and quality are not looked at.
Intervals sun_and_moon_spans(const LightRule& rule, PlaceSky& sky, Interval span);

/// What of `spans` has the sun in the wished direction and at least the wished quality.
/// They lie within the sky's span.
Intervals narrowed(const LightRule& rule, PlaceSky& sky, const Intervals& spans);

/// 0 to 1; 0 where the rule does not hold, give or take 0.01 degrees at its limits (windows end on whole seconds).
double quality(const LightRule& rule, const PlaceSky& sky, sky::PreciseInstant when);

/// The curve's value at an altitude.
double curve_value(const QualityCurve& curve, Degrees sun_altitude);

} // namespace geo
