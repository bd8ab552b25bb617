#pragma once
/// Writes what `light --find` found, for a crew or, as JSON or CSV, for programs.

#include "cli/find_light.hpp"
#include "cli/write_light.hpp"

#include <string>
#include <vector>

namespace cli {

struct PlaceFound {
    LightPlace place;
    std::vector<geo::CivilDate> dates; ///< those looked at
    std::vector<FoundLight> found;
};

/// Markdown that lines up as plain text; minutes only.
std::string found_tables(const FindWish& wish, const std::vector<PlaceFound>& places, const geo::TimeZone& zone);
/// One line a window or moment; format in docs/commands.md.
std::string found_csv(const FindWish& wish, const std::vector<PlaceFound>& places, const geo::TimeZone& zone);
/// Instants to the second, as computed; format in docs/commands.md.
std::string found_json(const FindWish& wish, const std::vector<PlaceFound>& places, const geo::TimeZone& zone);

} // namespace cli
