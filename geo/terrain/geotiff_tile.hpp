#pragma once
/// Elevations from GeoTIFF in geographic WGS 84 (EPSG 4326 or 4979), as global one arc second models are given out.
///
///     const auto tile = geo::terrain::read_geotiff_tile("heights.tif");
///
/// Read are the first image's single band of 16- or 32-bit integers or 32- or 64-bit floats in metres; strips or tiles;
/// uncompressed or in any compression libtiff knows (deflate, LZW, ...), with or without a predictor; classic or
/// BigTIFF. A pixel that is an area has its post in the middle, a pixel that is a point on the tie point. Unknown
/// ground is what GDAL_NODATA says, what is not finite, what is no plausible height and blocks left out of the file.
/// Heights are kept as 32-bit floats. Sources: OGC GeoTIFF Standard 1.1 (19-008r4); TIFF 6.0.

#include "geo/terrain/elevation_tile.hpp"

namespace geo::terrain {

/// Throws InputError for a broken file, another reference system, turned or upside-down rows, several bands, or more
/// than 2^28 posts.
ElevationTile read_geotiff_tile(const std::filesystem::path& file);

} // namespace geo::terrain
