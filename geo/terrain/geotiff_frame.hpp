#pragma once
/// Where a GeoTIFF's pixels lie.

#include "geo/terrain/grid_frame.hpp"

namespace geo::terrain {

class TiffFile;

/// Throws InputError when the file is not geographic WGS 84 in degrees, heights not in metres, north up.
GridFrame geotiff_frame(const TiffFile& tiff);

} // namespace geo::terrain
