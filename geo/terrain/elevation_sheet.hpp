#pragma once
/// Several elevation tiles as one sheet of ground.
///
///     const auto sheet = geo::terrain::read_elevation_sheet({"N47E009.hgt", "N47E010.hgt"});
///     if (const auto height = sheet.height(arch)) ...   // nothing: not known
///     for (const auto& tile : sheet.tiles()) say(tile.file, tile.unknown);
///
/// Where tiles overlap the one with the finest posts counts, among equals the one named first. Between posts the ground
/// is bilinear, across the edges of tiles too, whether neighbours share a row of posts (SRTM) or the next begins a post
/// later; +-180 is no border. An unknown post takes its height from another tile that knows it (finest first); else a
/// small hole is filled from its rim (`void_filling.hpp`); else the ground there stays unknown, and is counted.

#include "geo/terrain/tile_surface.hpp"

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace geo::terrain {

/// From corner post to corner post; `east` may pass 180.
struct CoverageBox {
    Degrees west;
    Degrees south;
    Degrees east;
    Degrees north;
};

struct TileReport {
    std::string file;
    CoverageBox box;
    Degrees post_spacing; ///< north to south
    std::size_t posts = 0;
    std::size_t voids = 0;             ///< posts the file does not know; of these:
    std::size_t filled_from_tiles = 0; ///< known to another tile
    std::size_t filled_from_rim = 0;   ///< in small holes
    std::size_t unknown = 0;           ///< the rest
};

struct SheetSettings {
    /// Holes up to this size from rim to rim are filled; common practice, no source.
    Metres largest_hole_filled{500.0};
};

/// What answers at a place.
struct GroundSample {
    float height = unknown_height;        ///< NaN when unknown
    const TileSurface* surface = nullptr; ///< none for the half step around a tile that takes the nearest posts' height
    GridPosition at;                      ///< on that surface
};

class ElevationSheet {
public:
    explicit ElevationSheet(std::vector<ElevationTile> tiles, SheetSettings settings = {});

    /// Metres above sea level; nothing where no tile knows.
    std::optional<Metres> height(Coordinate place) const;
    /// The same, and which tile said so.
    GroundSample sample(Coordinate place) const;

    /// Finest first.
    const std::vector<TileReport>& tiles() const { return reports_; }
    /// Nothing when no post is known.
    std::optional<Metres> highest() const;

private:
    void fill_voids(SheetSettings settings);
    void lend_edges();
    void survey();

    std::vector<TileSurface> surfaces_; ///< finest first
    std::vector<TileReport> reports_;
};

/// Throws InputError that names every file at fault, and for an empty list.
ElevationSheet read_elevation_sheet(const std::vector<std::filesystem::path>& files, SheetSettings settings = {});

} // namespace geo::terrain
