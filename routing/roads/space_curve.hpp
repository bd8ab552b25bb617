#pragma once
/// A curve that fills the map: places near each other mostly get near numbers, so that a search finds its data in few
/// cache lines.

#include "geo/coordinate.hpp"

#include <cstdint>

namespace routing::roads {

/// Position on the Hilbert curve over longitude and latitude in 2^32 steps each (about a centimetre).
/// D. Hilbert, "Ueber die stetige Abbildung einer Linie auf ein Flaechenstueck", Mathematische Annalen 38, 1891.
std::uint64_t place_on_curve(geo::Coordinate place);

} // namespace routing::roads
