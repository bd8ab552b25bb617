#pragma once
/// The line between land and sea, traced around the terrain's land.
///
///     for (const regions::Line& ring : regions::trace_coast(terrain)) ...

#include "regions/spot.hpp"
#include "regions/terrain.hpp"

#include <vector>

namespace regions {

/// Closed rings (first point = last point), land on the left as OpenStreetMap's natural=coastline wants it, largest
/// area first; rocks below 20,000 square metres and ponds left out. Marching squares on a 75 m grid (Lorensen and Cline
/// 1987 in the plane, from memory).
std::vector<Line> trace_coast(const Terrain& terrain);

/// Signed area in square metres, positive when the ring runs counter-clockwise.
double signed_area(const Line& ring);

} // namespace regions
