#pragma once
/// Which places and days `light` is asked about.
///
///     const auto asked = cli::light_places(options);

#include "cli/command_light.hpp"
#include "cli/write_light.hpp"

namespace cli {

struct LightAsked {
    std::vector<LightPlace> places; ///< without their days' light
    std::vector<geo::CivilDate> dates;
    geo::TimeZone zone;
};

/// Throws geo::InputError with every option that makes no sense, or the shoot file's faults.
LightAsked light_places(const LightOptions& options);

/// What the ground round a place hides of the sun.
geo::Surroundings surroundings_of(const LightPlace& place);

} // namespace cli
