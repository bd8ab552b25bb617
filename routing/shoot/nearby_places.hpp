#pragma once
/// What the map offers near a spot, with the driving it costs.
///
///     NearbyWish wish{.from = arch.at, .kinds = places_for(Need::food), .within = minutes{30}};
///     for (const NearbyPlace& found : nearby_places(wish, shoot, region).places) ...
///
/// Driving is exact, by the hierarchy, from the road nearest to each spot; ways on foot are left out. Roads shut for
/// the whole shoot are kept off, and those shut at `at` when that is given. The crew's wishes on roads are kept where
/// they leave a way; a place that only an avoided road reaches is told as such.

#include "geo/interval.hpp"
#include "routing/places/place_kind.hpp"
#include "routing/roads/snap.hpp"
#include "routing/shoot/region.hpp"
#include "routing/shoot/shoot.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace routing::shoot {

struct NearbyWish {
    geo::Coordinate from;                   ///< where the van sets off
    std::optional<geo::Coordinate> then{};  ///< where it goes on to; nothing: back
    std::vector<places::PlaceKind> kinds{}; ///< empty: all
    std::optional<minutes> within{};        ///< driving there
    std::optional<Instant> at{};            ///< when
    std::size_t most = 0;                   ///< so many are told; 0: all
    bool wards_first = false;               ///< hospitals with an emergency ward before all others
};

struct NearbyPlace {
    std::uint32_t place = 0;      ///< index into Region::places
    Seconds there{0};             ///< driving to it
    Seconds detour{0};            ///< there and onward, less going straight on
    geo::Metres length{0.0};      ///< by road to it
    bool by_avoided_road = false; ///< no way keeps the crew's wishes on roads
};

struct Nearby {
    std::vector<NearbyPlace> places; ///< least detour first, then by time there and number
    std::size_t more = 0;            ///< found and not told
    std::size_t cut_off = 0;         ///< of the kinds asked for, and no open road leads there and on
    Seconds straight{0};             ///< from `from` to `then`
};

/// Throws geo::InputError, naming --near or --then, for a spot over 5 km from any road of the map or without a way
/// between the two.
Nearby nearby_places(const NearbyWish& wish, const Shoot& shoot, const Region& region);

/// Where the van is left for a location: `park_at`, else where the quickest walk begins, and that walk.
struct VanSpot {
    geo::Coordinate at;
    Seconds walk{0};
};
VanSpot van_spot(const Location& location, const Shoot& shoot, const Region& region);

/// Places farther from a road than this are left out: 300 m, hospitals 1 km, whose point lies within large grounds.
geo::Metres farthest_place_from_road(places::PlaceKind kind);

/// "node/123"
std::string place_id(const places::Place& place);

} // namespace routing::shoot
