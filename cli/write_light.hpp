#pragma once
/// What `dayweave light` prints: light windows and sun events, as tables for people, as JSON or CSV for programs.

#include "cli/light_day.hpp"
#include "geo/camera.hpp"
#include "geo/coordinate.hpp"
#include "geo/terrain/horizon.hpp"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace cli {

struct LightPlace {
    std::string id;   ///< empty for a bare position
    std::string name; ///< what the heading says
    geo::Coordinate at;
    std::vector<LightDay> days{};
    std::optional<geo::Degrees> facing{};                          ///< the way the camera looks
    std::shared_ptr<const geo::terrain::HorizonProfile> horizon{}; ///< null: flat
    std::optional<geo::Lens> lens{};
    geo::Degrees pitch{0.0}; ///< of the lens above the horizontal
};

/// Markdown that lines up as plain text; minutes only.
std::string light_tables(const std::vector<LightPlace>& places, const geo::TimeZone& zone);
/// One line a window, sun or moon event, instants to the second; format in docs/commands.md.
std::string light_csv(const std::vector<LightPlace>& places, const geo::TimeZone& zone);
/// Instants to the second, as computed; format in docs/commands.md.
std::string light_json(const std::vector<LightPlace>& places, const geo::TimeZone& zone);

/// "Flat horizon, clear air": what the times know of the ground. `terrain` and `flat`: whether a place's horizon comes
/// from elevation tiles, and whether one's does not.
std::string horizon_words(bool terrain, bool flat);

} // namespace cli
