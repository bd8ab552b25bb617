#pragma once
/// A tile as ground that can be asked between its posts, together with what its neighbours lend it.
///
/// Between four posts the ground is bilinear. Beyond the last column and row the neighbour's posts may stand (`lend`),
/// for tiles that end a post before the next begins. Blocks of cells know the highest ground in and around them, so
/// that a ray can pass over ground that lies too low to matter.

#include "geo/terrain/elevation_tile.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace geo::terrain {

/// Rows and columns, with fractions, from the north-west post.
struct GridPosition {
    double row = 0.0;
    double column = 0.0;
};

/// What is known of the ground around a position.
struct BlockSurvey {
    float ceiling = 0.0F;   ///< no ground in the block or within a cell of it lies higher
    bool all_known = false; ///< no gap in the block nor within a cell of it
    GridPosition first;     ///< the block's north-west and south-east corners
    GridPosition last;
};

class TileSurface {
public:
    explicit TileSurface(ElevationTile tile);

    const ElevationTile& tile() const { return tile_; }
    ElevationTile& tile() { return tile_; }
    const GridFrame& frame() const { return tile_.frame(); }

    /// Where a place lies among the posts, lent ones included; nothing outside them.
    std::optional<GridPosition> locate(Coordinate place) const {
        return inside({frame().row_of(place.latitude), column_of(place.longitude)});
    }
    /// As `locate`, but places up to half a step outside are moved onto the nearest post's line.
    std::optional<GridPosition> locate_in_margin(Coordinate place) const;

    /// Bilinear; NaN where a post that counts is unknown. `at` as `locate` gives it.
    float height(GridPosition at) const {
        const auto row = static_cast<std::size_t>(at.row);
        const auto column = static_cast<std::size_t>(at.column);
        if (row + 1 < frame().rows && column + 1 < frame().columns) {
            const auto south = static_cast<float>(at.row - static_cast<double>(row));
            const auto east = static_cast<float>(at.column - static_cast<double>(column));
            const float north_west = tile_.height(row, column);
            const float north_east = tile_.height(row, column + 1);
            const float south_west = tile_.height(row + 1, column);
            const float south_east = tile_.height(row + 1, column + 1);
            const float north = north_west + east * (north_east - north_west);
            const float height = north + south * (south_west + east * (south_east - south_west) - north);
            if (!std::isnan(height))
                return height;
        }
        return height_at_gap_or_edge(at);
    }

    /// NaN where unknown or not lent; `row` and `column` may be one past the tile's last.
    float post(std::size_t row, std::size_t column) const;

    /// Posts of the neighbours: one column (`frame().rows` heights) beyond the last, one row (`frame().columns` + 1)
    /// below the last. Either may be empty; NaN where there is no neighbour.
    void lend(std::vector<float> east_column, std::vector<float> south_row);

    /// Reckons the blocks' ceilings. Once, when posts no longer change.
    void survey();
    BlockSurvey block_around(GridPosition at) const;
    /// Raises the ceilings of blocks in which a tile that goes before this one has its ground.
    void raise_ceilings(const TileSurface& finer);
    float highest() const;

private:
    double column_of(Degrees longitude) const {
        const double column = frame().column_of(longitude);
        return column < -GridFrame::tolerance && frame().goes_round() ? column + 360.0 / frame().step_east.value
                                                                      : column;
    }
    std::optional<GridPosition> inside(GridPosition at) const {
        at.row = onto_edge(at.row, last_row_);
        at.column = onto_edge(at.column, last_column_);
        if (at.row >= 0.0 && at.row <= last_row_ && at.column >= 0.0 && at.column <= last_column_)
            return at;
        return std::nullopt;
    }
    float height_at_gap_or_edge(GridPosition at) const;

    struct Block {
        float ceiling = -std::numeric_limits<float>::infinity();
        bool all_known = true;
    };
    static constexpr std::size_t cells_in_block = 32;

    ElevationTile tile_;
    double last_row_;
    double last_column_;
    std::vector<float> east_column_;
    std::vector<float> south_row_;
    std::size_t block_columns_ = 0;
    std::vector<Block> blocks_;
};

} // namespace geo::terrain
