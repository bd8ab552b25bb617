#pragma once
/// What `light --find` is to look for, as people type it.
///
///     const auto wish = cli::parse_find_wish("sunset at bearing 235..245");
///     const auto dark = cli::parse_find_wish("dark-sky for 30 min");
///
/// A wish is a thing and limits in any order, each at most once:
///
///     sunrise | sunset | moonrise | moonset | sun | moon | a light's name
///     at bearing A..B     clockwise from A to B, through north where B is the smaller
///     above H | below H   degrees, sun and moon only
///     for N min           no shorter than that; windows only
///
/// `sunrise` and `sunset` are the moment; with `for` they are the light of that name, since a moment has no length.

#include "cli/sky_path.hpp"
#include "geo/camera.hpp"
#include "geo/light_request.hpp"

#include <chrono>
#include <optional>
#include <string>
#include <string_view>
#include <variant>

namespace cli {

/// The moment it comes up or goes down.
struct RiseOrSet {
    SkyBody body = SkyBody::sun;
    bool rising = false;
};

/// While it can be seen, at some height.
struct BodySeen {
    SkyBody body = SkyBody::sun;
    std::optional<geo::Degrees> above{};
    std::optional<geo::Degrees> below{};
};

struct FindWish {
    std::string text; ///< as typed, on one line
    std::variant<RiseOrSet, BodySeen, geo::LightName> what;
    std::optional<geo::AzimuthRange> bearing{}; ///< of the moon for a wish of the moon, else of the sun
    std::chrono::minutes at_least{0};
};

/// Throws geo::InputError naming `--find` for a wish that makes no sense.
FindWish parse_find_wish(std::string_view text);

} // namespace cli
