#include "geo/terrain/void_filling.hpp"

#include "geo/local_frame.hpp"

#include <algorithm>
#include <cassert>
#include <cstdint>

namespace geo::terrain {

namespace {

/// Small: an ocean's worth of them may have to be held.
struct Post {
    std::uint32_t row = 0;
    std::uint32_t column = 0;
};

Post post_at(std::size_t row, std::size_t column) {
    return {static_cast<std::uint32_t>(row), static_cast<std::uint32_t>(column)};
}

struct Hole {
    std::vector<Post> posts;
    std::size_t first_row, last_row, first_column, last_column;
};

/// The unknown posts that hang together with one, taken out of `waiting`.
Hole take_hole(Post start, std::vector<bool>& waiting, const GridFrame& frame) {
    Hole hole{{start}, start.row, start.row, start.column, start.column};
    const auto take = [&](std::size_t row, std::size_t column) {
        const std::size_t index = row * frame.columns + column;
        if (!waiting[index])
            return;
        waiting[index] = false;
        hole.posts.push_back(post_at(row, column));
    };
    waiting[start.row * frame.columns + start.column] = false;
    for (std::size_t next = 0; next < hole.posts.size(); ++next) {
        const Post post = hole.posts[next];
        hole.first_row = std::min<std::size_t>(hole.first_row, post.row);
        hole.last_row = std::max<std::size_t>(hole.last_row, post.row);
        hole.first_column = std::min<std::size_t>(hole.first_column, post.column);
        hole.last_column = std::max<std::size_t>(hole.last_column, post.column);
        if (post.row > 0)
            take(post.row - 1, post.column);
        if (post.row + std::size_t{1} < frame.rows)
            take(post.row + 1, post.column);
        if (post.column > 0)
            take(post.row, post.column - 1);
        if (post.column + std::size_t{1} < frame.columns)
            take(post.row, post.column + 1);
    }
    return hole;
}

bool is_small(const Hole& hole, const GridFrame& frame, Metres largest) {
    if (hole.first_row == 0 || hole.first_column == 0 || hole.last_row + 1 == frame.rows ||
        hole.last_column + 1 == frame.columns)
        return false; // its rim is not known all round
    const auto corner = [&](std::size_t row, std::size_t column) {
        return frame.place(static_cast<double>(row), static_cast<double>(column));
    };
    const LocalFrame local(corner(hole.first_row, hole.first_column));
    // From rim to rim: the posts around the hole are known.
    const LocalPoint size = local.from(corner(hole.last_row, hole.last_column));
    const LocalPoint cell = local.from(corner(hole.first_row + 1, hole.first_column + 1));
    return (size.east + 2.0 * cell.east) <= largest && -(size.north + 2.0 * cell.north) <= largest;
}

void stretch_skin(ElevationTile& tile, Hole hole) {
    // Row by row, so that heights spread alike whatever post the hole was found by.
    std::sort(hole.posts.begin(), hole.posts.end(),
              [](Post a, Post b) { return a.row != b.row ? a.row < b.row : a.column < b.column; });
    const std::size_t columns = hole.last_column - hole.first_column + 3;
    const std::size_t rows = hole.last_row - hole.first_row + 3;
    std::vector<double> heights(columns * rows);
    const auto index = [&](Post post) {
        return (post.row - hole.first_row + 1) * columns + (post.column - hole.first_column + 1);
    };
    double mean = 0.0;
    double known = 0.0;
    for (std::size_t row = 0; row < rows; ++row)
        for (std::size_t column = 0; column < columns; ++column) {
            const float height = tile.height(hole.first_row + row - 1, hole.first_column + column - 1);
            if (std::isnan(height))
                continue;
            heights[row * columns + column] = height;
            known += 1.0;
            mean += (height - mean) / known;
        }
    assert(known > 0.0); // the rim of a hole inside the tile
    for (const Post post : hole.posts)
        heights[index(post)] = mean;
    constexpr double settled = 1e-4; // metres
    constexpr int most_rounds = 100000;
    double largest_change = 1.0;
    for (int round = 0; round < most_rounds && largest_change > settled; ++round) {
        largest_change = 0.0;
        for (const Post post : hole.posts) {
            double& height = heights[index(post)];
            const double* at = &height;
            const double skin = (at[-1] + at[1] + *(at - columns) + *(at + columns)) / 4.0;
            largest_change = std::max(largest_change, std::abs(skin - height));
            height = skin;
        }
    }
    for (const Post post : hole.posts)
        tile.set_height(post.row, post.column, static_cast<float>(heights[index(post)]));
}

} // namespace

FilledHoles fill_small_holes(ElevationTile& tile, Metres largest) {
    const GridFrame frame = tile.frame();
    assert(frame.rows >= 2 && frame.columns >= 2);
    std::vector<bool> waiting(frame.rows * frame.columns);
    std::vector<float> heights(frame.columns);
    for (std::size_t row = 0; row < frame.rows; ++row) {
        tile.copy_row(row, heights);
        for (std::size_t column = 0; column < frame.columns; ++column)
            waiting[row * frame.columns + column] = std::isnan(heights[column]);
    }
    FilledHoles result;
    for (std::size_t index = 0; index < waiting.size(); ++index) {
        if (!waiting[index])
            continue;
        Hole hole = take_hole(post_at(index / frame.columns, index % frame.columns), waiting, frame);
        if (is_small(hole, frame, largest)) {
            result.filled += hole.posts.size();
            stretch_skin(tile, std::move(hole));
        } else {
            result.unknown += hole.posts.size();
        }
    }
    return result;
}

} // namespace geo::terrain
