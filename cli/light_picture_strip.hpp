#pragma once
/// The upper part of a light picture: the day from left to right, the sky in bands, a row for each light.

#include "cli/light_picture_sky.hpp"
#include "cli/svg_drawing.hpp"

namespace cli {

/// Where the strip's time runs.
struct StripFrame {
    double left = 0.0;
    double right = 0.0;
    geo::Interval civil;

    double x_of(geo::Instant when) const {
        return left + (right - left) * static_cast<double>((when - civil.from).count()) /
                          static_cast<double>(civil.length().count());
    }
};

/// Draws from `top` down, names of the rows between `names_left` and the frame; gives where it ends.
double draw_strip(SvgDrawing& drawing, const StripFrame& frame, double names_left, double top, const LightDay& light,
                  const PictureSky& sky, const geo::TimeZone& zone);

} // namespace cli
