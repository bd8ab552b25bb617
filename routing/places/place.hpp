#pragma once
/// Where a crew can eat, sleep, fill up, park or get help, as the map tells it.

#include "geo/coordinate.hpp"
#include "routing/roads/osm_extract.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace routing::places {

enum class PlaceKind {
    restaurant, cafe, fast_food, pub, food_court, bakery, supermarket,
    fuel, charging_station,
    hotel, guest_house, hostel, motel, apartment, chalet, camp_site, caravan_site, alpine_hut,
    parking, trailhead,
    hospital, clinic, doctors, pharmacy
};

enum class Need { food, bed, fuel, parking, care };

struct Place {
    roads::OsmObject object;
    PlaceKind kind{};
    std::string name;          ///< raw text from the map, or the kind in words when unnamed; escape on output
    geo::Coordinate at;
    std::string opening_hours; ///< as mapped, not judged yet
    std::string phone;
    bool emergency = false;    ///< hospital with an emergency ward (emergency=yes)
};

std::string_view to_string(PlaceKind kind); ///< OSM value, "guest_house"
std::optional<PlaceKind> parse_place_kind(std::string_view text);
Need need_of(PlaceKind kind);

/// True for objects worth keeping while the extract is read.
bool is_place(const roads::Tags& tags);
/// Sorted by (type, id); duplicates (a node inside an area of the same kind and name) merged; private and disused left out.
std::vector<Place> find_places(const roads::OsmExtract& extract);

} // namespace routing::places
