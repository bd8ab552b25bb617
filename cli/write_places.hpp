#pragma once
/// What `places` prints: a table, JSON or comma-separated values.

#include "cli/near_spot.hpp"
#include "routing/shoot/nearby_places.hpp"

#include <optional>
#include <string>

namespace cli {

/// What was asked, beside what was found.
struct PlacesAsked {
    NearSpot near;
    geo::Seconds walk{0};           ///< from there to where the van stands
    std::optional<NearSpot> then{}; ///< nothing: back
    std::string kind;               ///< "food", "all", "cafe"
    bool care = false;
    std::optional<std::chrono::minutes> within{};
    std::optional<geo::Instant> at{};
};

std::string places_table(const PlacesAsked& asked, const routing::shoot::Nearby& nearby,
                         const routing::shoot::Shoot& shoot, const routing::shoot::Region& region);
std::string places_json(const PlacesAsked& asked, const routing::shoot::Nearby& nearby,
                        const routing::shoot::Shoot& shoot, const routing::shoot::Region& region);
/// RFC 4180; a header, then a line each.
std::string places_csv(const PlacesAsked& asked, const routing::shoot::Nearby& nearby,
                       const routing::shoot::Shoot& shoot, const routing::shoot::Region& region);

} // namespace cli
