#pragma once
/// Which OpenStreetMap tags make a place to stop at, and what the crew needs it for. The one table of it.
///
///     const auto kinds = routing::places::kinds_of(feature.tags);   // a hotel with a restaurant: two kinds

#include "routing/roads/osm_extract.hpp"

#include <optional>
#include <string_view>
#include <vector>

namespace routing::places {

enum class PlaceKind {
    restaurant,
    cafe,
    fast_food,
    pub,
    food_court,
    bakery,
    supermarket,
    fuel,
    charging_station,
    hotel,
    guest_house,
    hostel,
    motel,
    apartment,
    chalet,
    camp_site,
    caravan_site,
    alpine_hut,
    parking,
    trailhead,
    hospital,
    clinic,
    doctors,
    pharmacy
};

enum class Need { food, bed, fuel, parking, care };

std::string_view to_string(PlaceKind kind); ///< OSM value, "guest_house"
std::string_view in_words(PlaceKind kind);  ///< for people, "guest house"; UTF-8
std::optional<PlaceKind> parse_place_kind(std::string_view text);
Need need_of(PlaceKind kind);

/// Every kind the tags make the object, in the order of PlaceKind; empty when it is no place for the crew.
///
/// A value may be a list (`amenity=parking;fuel`). Left out: what is out of use (`disused=yes`, `abandoned=yes`, or the
/// same value under a `disused:` or `abandoned:` key) and what is shut to strangers: `access=private` or `no`; for
/// parking every access value but yes, permissive, public, destination, designated, official and unknown, so
/// `customers` too. A list of access values is open if any item is. A charger that takes no cars (`motorcar=no`) is
/// left out. Sources: OSM wiki, Key:access, Lifecycle prefix, Semi-colon value separator, and the page of each value.
std::vector<PlaceKind> kinds_of(const roads::Tags& tags);

} // namespace routing::places
