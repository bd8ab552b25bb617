#pragma once
/// What the documents of a plan tell beside the plan itself: where it came from.

#include <string>

namespace cli {

/// The rightful words for map data from OpenStreetMap (its copyright page asks for both names).
constexpr const char* attribution = "© OpenStreetMap contributors, ODbL 1.0";

struct PlanSource {
    std::string shoot_file;    ///< from the folder of plan.json, with '/'; empty when it can't be named
    std::string map_date;      ///< of the map data, ISO 8601; empty when the map does not say
    std::string zone_database; ///< "2024b"
    std::string version;       ///< of this program
};

/// Version of this program, "0.1.0".
std::string program_version();

} // namespace cli
