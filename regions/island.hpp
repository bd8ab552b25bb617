#pragma once
/// The whole invented island, drawn in the right order.
///
///     const regions::Island island = regions::make_island();
///     regions::write_extract(island, "ondrel.osm.pbf");
///     regions::write_tile(island, "N46W028.hgt");

#include "regions/map_draft.hpp"
#include "regions/terrain.hpp"

#include <filesystem>
#include <vector>

namespace regions {

struct Island {
    Terrain terrain;
    MapDraft map;
};

/// The same island every time, on every machine.
Island make_island();

/// OpenStreetMap PBF: nodes, ways, relations by rising id, header with box and date. Replaces the file.
void write_extract(const Island& island, const std::filesystem::path& file);

/// Elevation tile as the Shuttle Radar Topography Mission laid them out (NASA SRTM "hgt", 3 arc seconds): 1201 x 1201
/// signed 16-bit metres, big-endian, rows from north to south, columns from west to east, edges shared with the
/// neighbouring tiles. The name gives the south-west corner: N46W028 spans 46..47 N, 28..27 W.
std::vector<std::int16_t> tile_heights(const Terrain& terrain);
void write_tile(const Island& island, const std::filesystem::path& file);

inline constexpr int tile_samples = 1201;
inline constexpr int tile_south = 46;
inline constexpr int tile_west = -28;

} // namespace regions
