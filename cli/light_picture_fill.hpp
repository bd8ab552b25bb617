#pragma once
/// How areas of a light picture are filled: each with a pattern of its own, so that it can be told without colours, and
/// lighter the higher the sun.
///
///     drawing.markup(cli::fill_definitions());
///     drawing.rectangle(box, cli::fill_look(Fill::golden_low));

#include <string>

namespace cli {

enum class Fill {
    night,
    astronomical,
    nautical,
    blue,
    golden_down, ///< golden, the sun below the horizon
    golden_up,
    low_sun,
    day,
    high_sun,
    soft,
    dark_sky,
    moonlight,
    sunlit,
    behind_ground,
    below_horizon
};

/// To stand before the first shape.
std::string fill_definitions();
/// Attributes of a shape.
std::string fill_look(Fill fill);

} // namespace cli
