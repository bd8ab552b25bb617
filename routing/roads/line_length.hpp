#pragma once
/// Length on the ground between two places, in one spot so that it can be exchanged.

#include "geo/coordinate.hpp"

namespace routing::roads {

/// Geodesic on the WGS 84 ellipsoid by Andoyer's formula, good to better than 1e-5 of the length.
geo::Metres ground_distance(geo::Coordinate a, geo::Coordinate b);

} // namespace routing::roads
