#include "geo/terrain/tile_surface.hpp"

#include <cassert>

namespace geo::terrain {

TileSurface::TileSurface(ElevationTile tile)
    : tile_(std::move(tile)), last_row_(static_cast<double>(frame().rows - 1)),
      last_column_(static_cast<double>(frame().columns - 1)) {}

std::optional<GridPosition> TileSurface::locate_in_margin(Coordinate place) const {
    GridPosition at{frame().row_of(place.latitude), column_of(place.longitude)};
    constexpr double half = 0.5 + GridFrame::tolerance;
    if (at.row < -half || at.row > last_row_ + half || at.column < -half || at.column > last_column_ + half)
        return std::nullopt;
    return GridPosition{std::clamp(at.row, 0.0, last_row_), std::clamp(at.column, 0.0, last_column_)};
}

float TileSurface::post(std::size_t row, std::size_t column) const {
    if (row < frame().rows && column < frame().columns)
        return tile_.height(row, column);
    if (row == frame().rows && column < south_row_.size())
        return south_row_[column];
    if (column == frame().columns && row < east_column_.size())
        return east_column_[row];
    return unknown_height;
}

/// Posts of no weight don't count, known or not.
float TileSurface::height_at_gap_or_edge(GridPosition at) const {
    const auto row = static_cast<std::size_t>(at.row);
    const auto column = static_cast<std::size_t>(at.column);
    const auto south = static_cast<float>(at.row - static_cast<double>(row));
    const auto east = static_cast<float>(at.column - static_cast<double>(column));
    const auto along = [&](std::size_t r) {
        float height = 0.0F;
        if (east < 1.0F)
            height += (1.0F - east) * post(r, column);
        if (east > 0.0F)
            height += east * post(r, column + 1);
        return height;
    };
    float height = 0.0F;
    if (south < 1.0F)
        height += (1.0F - south) * along(row);
    if (south > 0.0F)
        height += south * along(row + 1);
    return height;
}

void TileSurface::lend(std::vector<float> east_column, std::vector<float> south_row) {
    assert(east_column.empty() || east_column.size() == frame().rows);
    assert(south_row.empty() || south_row.size() == frame().columns + 1);
    east_column_ = std::move(east_column);
    south_row_ = std::move(south_row);
    last_column_ = static_cast<double>(frame().columns - (east_column_.empty() ? 1 : 0));
    last_row_ = static_cast<double>(frame().rows - (south_row_.empty() ? 1 : 0));
}

void TileSurface::survey() {
    const auto post_rows = static_cast<std::size_t>(last_row_) + 1;
    const auto post_columns = static_cast<std::size_t>(last_column_) + 1;
    const std::size_t block_rows = (post_rows - 2) / cells_in_block + 1;
    block_columns_ = (post_columns - 2) / cells_in_block + 1;
    blocks_.assign(block_rows * block_columns_, {});
    std::vector<float> heights(post_columns);
    std::vector<Block> row_blocks(block_columns_);
    // A block's posts are those of its cells and one more on every side.
    const auto first_post = [](std::size_t block) { return block == 0 ? 0 : block * cells_in_block - 1; };
    const auto past_post = [](std::size_t block, std::size_t posts) {
        return std::min(posts, (block + 1) * cells_in_block + 2);
    };
    for (std::size_t row = 0; row < post_rows; ++row) {
        if (row < frame().rows)
            tile_.copy_row(row, heights);
        for (std::size_t column = row < frame().rows ? frame().columns : 0; column < post_columns; ++column)
            heights[column] = post(row, column);
        for (std::size_t block = 0; block < block_columns_; ++block) {
            Block found;
            const std::size_t end = past_post(block, post_columns);
            for (std::size_t column = first_post(block); column < end; ++column) {
                found.ceiling = heights[column] > found.ceiling ? heights[column] : found.ceiling;
                found.all_known &= !std::isnan(heights[column]);
            }
            row_blocks[block] = found;
        }
        const std::size_t middle = std::min(row / cells_in_block, block_rows - 1);
        for (std::size_t block_row = middle == 0 ? 0 : middle - 1; block_row <= std::min(middle + 1, block_rows - 1);
             ++block_row) {
            if (row < first_post(block_row) || row >= past_post(block_row, post_rows))
                continue;
            for (std::size_t block = 0; block < block_columns_; ++block) {
                Block& whole = blocks_[block_row * block_columns_ + block];
                whole.ceiling = std::max(whole.ceiling, row_blocks[block].ceiling);
                whole.all_known &= row_blocks[block].all_known;
            }
        }
    }
}

BlockSurvey TileSurface::block_around(GridPosition at) const {
    const std::size_t block_rows = blocks_.size() / block_columns_;
    const std::size_t row = std::min(static_cast<std::size_t>(at.row) / cells_in_block, block_rows - 1);
    const std::size_t column = std::min(static_cast<std::size_t>(at.column) / cells_in_block, block_columns_ - 1);
    const Block& block = blocks_[row * block_columns_ + column];
    const auto edge = [](std::size_t index, double last) {
        return std::min(last, static_cast<double>(index * cells_in_block));
    };
    return {block.ceiling,
            block.all_known,
            {edge(row, last_row_), edge(column, last_column_)},
            {edge(row + 1, last_row_), edge(column + 1, last_column_)}};
}

void TileSurface::raise_ceilings(const TileSurface& finer) {
    const float ceiling = finer.highest();
    for (std::size_t index = 0; index < blocks_.size(); ++index) {
        const std::size_t block_row = index / block_columns_;
        const std::size_t block_column = index % block_columns_;
        const auto first_row = static_cast<double>(block_row * cells_in_block) - 1.0;
        const auto first_column = static_cast<double>(block_column * cells_in_block) - 1.0;
        const GridFrame& other = finer.frame();
        const Coordinate corner = frame().place(first_row, first_column);
        const double side = static_cast<double>(cells_in_block) + 2.0;
        const double north = corner.latitude.value;
        const double south = north - side * frame().step_south.value;
        const double other_south = other.north.value - finer.last_row_ * other.step_south.value;
        if (south > other.north.value || north < other_south)
            continue;
        // Eastwards from the finer tile's west edge, so that +-180 is no border.
        const double width = side * frame().step_east.value;
        double offset = corner.longitude.value - other.west.value;
        offset -= 360.0 * std::floor((offset + width) / 360.0);
        if (offset + width < 0.0 || offset > finer.last_column_ * other.step_east.value)
            continue;
        blocks_[index].ceiling = std::max(blocks_[index].ceiling, ceiling);
    }
}

float TileSurface::highest() const {
    float highest = -std::numeric_limits<float>::infinity();
    for (const Block& block : blocks_)
        highest = std::max(highest, block.ceiling);
    return highest;
}

} // namespace geo::terrain
