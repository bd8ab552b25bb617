#pragma once
/// Small holes in a tile filled from their rim.
///
/// A hole is a group of unknown posts that touch by their sides. One that is at most `largest` wide and high and does
/// not reach the tile's edge is filled with the heights of a stretched skin: each post the mean of its four neighbours
/// (Laplace's equation), so planes and slopes go through and no height leaves the range of the rim. Larger holes stay
/// unknown: what stands in them nobody measured.

#include "geo/terrain/elevation_tile.hpp"

namespace geo::terrain {

struct FilledHoles {
    std::size_t filled = 0;  ///< posts
    std::size_t unknown = 0; ///< posts left
};

FilledHoles fill_small_holes(ElevationTile& tile, Metres largest);

} // namespace geo::terrain
