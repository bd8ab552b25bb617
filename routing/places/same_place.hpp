#pragma once
/// Whether two mapped objects of one kind and name are one place: a hotel drawn as a building and marked by a node too.
///
///     const auto pairs = same_place_pairs(features, Closeness::inside_or_beside);

#include "routing/roads/osm_extract.hpp"

#include <cstddef>
#include <utility>
#include <vector>

namespace routing::places {

/// True inside the outline and on its corners (a node of the outline tagged as the place it bounds), by the even-odd
/// rule. The rings follow one another, each ending where it began. False for a node.
bool lies_inside(geo::Coordinate point, const roads::Feature& area);

/// From a point to the nearest stretch of the outline, or to the node; as accurate as geo::LocalFrame.
geo::Metres distance_to(geo::Coordinate point, const roads::Feature& feature);

enum class Closeness {
    inside,          ///< the point of one lies inside the area of the other
    inside_or_beside ///< or one is a node and they lie within `beside` of each other
};

/// Our figure: about the width of a building and its forecourt.
constexpr geo::Metres beside{30.0};

/// Index pairs (a, b) of one place, both ways round, ascending. O(n log n + pairs that share a band of latitude as high
/// as the area); does badly when many areas are as large as the map.
std::vector<std::pair<std::size_t, std::size_t>> same_place_pairs(const std::vector<const roads::Feature*>& features,
                                                                  Closeness closeness);

} // namespace routing::places
