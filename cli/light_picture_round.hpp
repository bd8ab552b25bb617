#pragma once
/// The round part of a light picture: the sky as a disc seen from above like a map, north up and east to the right, the
/// zenith in the middle; the ground's horizon, the ways of sun and moon, what the camera sees.

#include "cli/light_picture_sky.hpp"
#include "cli/svg_drawing.hpp"

namespace cli {

/// Height runs evenly from the middle (90 degrees) to the rim.
struct RoundFrame {
    SvgPoint centre;
    double radius = 0.0;

    static constexpr geo::Degrees rim{-10.0};

    SvgPoint at(geo::sky::SkyPosition position) const;
    /// Beyond the rim by `out`, in a direction.
    SvgPoint outside(geo::Degrees azimuth, double out) const;
};

/// Room to leave round the rim for bearings and labels.
inline constexpr double round_margin = 72.0;

/// Labels stay within `room`; one that finds no free spot is left out.
void draw_round(SvgDrawing& drawing, const RoundFrame& frame, const SvgBox& room, const LightPlace& place,
                const PictureSky& sky, const geo::TimeZone& zone);

/// Looks of the lines, for the key too.
inline constexpr auto sun_seen_look = "stroke=\"#a23a00\" stroke-width=\"3\" stroke-linecap=\"round\"";
inline constexpr auto sun_hidden_look = "stroke=\"#a23a00\" stroke-width=\"1.1\" stroke-dasharray=\"1.5 3\"";
inline constexpr auto moon_seen_look = "stroke=\"#1f3d70\" stroke-width=\"2.2\" stroke-dasharray=\"9 3\"";
inline constexpr auto moon_hidden_look = "stroke=\"#1f3d70\" stroke-width=\"1\" stroke-dasharray=\"1 4\"";
inline constexpr auto camera_look = "stroke=\"#111\" stroke-width=\"1.3\" stroke-dasharray=\"7 2 2 2\"";
inline constexpr auto ridge_look = "stroke=\"#111\" stroke-width=\"1.8\" stroke-linejoin=\"round\"";

} // namespace cli
