#pragma once
/// SRTM tiles: one degree square, 16-bit big-endian metres, posts on the degree lines, so that neighbours share a row
/// or column; the file's name gives the south-west corner.
///
///     read_srtm_tile("S09W036.hgt")         // 1201 x 1201 posts (3 arc seconds) or 3601 x 3601 (1 arc second)
///     read_srtm_tile("N47E009.hgt.zip")     // the one .hgt inside counts
///
/// An unzipped tile is mapped, not copied. Source of the format: NASA/USGS, SRTM collection user guide.

#include "geo/terrain/elevation_tile.hpp"

#include <optional>
#include <string_view>

namespace geo::terrain {

/// South-west corner a name gives: "N47E009", "s09w036.SRTMGL1.hgt"; nothing when it gives none.
std::optional<Coordinate> corner_from_name(std::string_view name);

/// Ends with .hgt or .hgt.zip, in capitals or not.
bool is_srtm_name(const std::filesystem::path& file);

/// Throws InputError for a name that says no place, a size that is neither grid's, or a broken archive.
ElevationTile read_srtm_tile(const std::filesystem::path& file);

} // namespace geo::terrain
