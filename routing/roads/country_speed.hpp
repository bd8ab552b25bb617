#pragma once
/// Implicit speed limits: "RO:urban", "DE:zone30", "GB:nsl_single".

#include "geo/units.hpp"

#include <optional>
#include <string_view>

namespace routing::roads {

struct CountrySpeed {
    bool known = false; ///< the code is in the table or names its number itself
    bool unlimited = false;
    std::optional<geo::KilometresPerHour> limit;
};

/// `heavy`: above 3.5 t, where the table has a lower figure.
/// Source: OSM wiki, Default speed limits (revision 2607051), for the countries listed.
CountrySpeed country_speed(std::string_view code, bool heavy);

/// True for texts that begin like a code: two letters of a country, perhaps a region, then a colon.
bool is_speed_zone_code(std::string_view text);

/// True for "XX:urban" and for zones of 40 km/h and less.
bool names_urban_zone(std::string_view code);

} // namespace routing::roads
