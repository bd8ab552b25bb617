#pragma once
/// A spot of the shoot as a crew names it on the command line: `--near` and `--then`.
///
///     const NearSpot spot = parse_near("cove", "--near", shoot);   // a location's or a scene's id, base, or LAT,LON

#include "geo/coordinate.hpp"
#include "routing/shoot/shoot.hpp"

#include <optional>
#include <string>

namespace cli {

struct NearSpot {
    std::string name;
    geo::Coordinate at;
    std::optional<std::uint32_t> location{}; ///< index into Shoot::locations; nothing for base and plain coordinates
};

/// A scene means the location of its first option; an id that is both means the location. Throws geo::InputError for
/// the field `option`.
NearSpot parse_near(const std::string& text, const std::string& option, const routing::shoot::Shoot& shoot);

} // namespace cli
