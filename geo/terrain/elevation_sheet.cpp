#include "geo/terrain/elevation_sheet.hpp"

#include "geo/input_error.hpp"
#include "geo/terrain/void_filling.hpp"

#include <algorithm>

namespace geo::terrain {

namespace {

/// The height other tiles give at a place, finest first.
float height_of_others(const std::vector<TileSurface>& surfaces, std::size_t tile, Coordinate place) {
    for (std::size_t other = 0; other < surfaces.size(); ++other) {
        if (other == tile)
            continue;
        if (const auto at = surfaces[other].locate(place)) {
            const float height = surfaces[other].height(*at);
            if (!std::isnan(height))
                return height;
        }
    }
    return unknown_height;
}

struct Filling {
    std::uint32_t row = 0;
    std::uint32_t column = 0;
    float height = 0.0F;
};

/// Whether another tile as fine has ground at a place.
bool shared(const std::vector<TileSurface>& surfaces, std::size_t tile, Coordinate place) {
    const Degrees step = surfaces[tile].frame().step_south;
    for (std::size_t other = 0; other < surfaces.size(); ++other)
        if (other != tile && surfaces[other].frame().step_south.value < 1.01 * step.value &&
            surfaces[other].locate(place))
            return true;
    return false;
}

bool none_known(const std::vector<float>& heights) {
    return std::all_of(heights.begin(), heights.end(), [](float height) { return std::isnan(height); });
}

} // namespace

ElevationSheet::ElevationSheet(std::vector<ElevationTile> tiles, SheetSettings settings) {
    std::stable_sort(tiles.begin(), tiles.end(), [](const ElevationTile& a, const ElevationTile& b) {
        return a.frame().step_south < b.frame().step_south;
    });
    for (ElevationTile& tile : tiles) {
        const GridFrame& frame = tile.frame();
        reports_.push_back({tile.file(),
                            {frame.west, frame.south(), frame.east(), frame.north},
                            frame.step_south,
                            frame.rows * frame.columns});
        surfaces_.emplace_back(std::move(tile));
    }
    fill_voids(settings);
    lend_edges();
    survey();
}

void ElevationSheet::fill_voids(SheetSettings settings) {
    // All are found before any is set: what one tile lends must not depend on what it was lent.
    std::vector<std::vector<Filling>> fillings(surfaces_.size());
    for (std::size_t tile = 0; tile < surfaces_.size(); ++tile) {
        const GridFrame& frame = surfaces_[tile].frame();
        std::vector<float> row_heights(frame.columns);
        for (std::size_t row = 0; row < frame.rows; ++row) {
            surfaces_[tile].tile().copy_row(row, row_heights);
            for (std::size_t column = 0; column < frame.columns; ++column) {
                if (!std::isnan(row_heights[column]))
                    continue;
                ++reports_[tile].voids;
                const Coordinate place = frame.place(static_cast<double>(row), static_cast<double>(column));
                const float height = height_of_others(surfaces_, tile, place);
                if (!std::isnan(height))
                    fillings[tile].push_back(
                        {static_cast<std::uint32_t>(row), static_cast<std::uint32_t>(column), height});
            }
        }
    }
    for (std::size_t tile = 0; tile < surfaces_.size(); ++tile) {
        for (const Filling& filling : fillings[tile])
            surfaces_[tile].tile().set_height(filling.row, filling.column, filling.height);
        TileReport& report = reports_[tile];
        report.filled_from_tiles = fillings[tile].size();
        if (report.voids == report.filled_from_tiles)
            continue;
        const FilledHoles holes = fill_small_holes(surfaces_[tile].tile(), settings.largest_hole_filled);
        report.filled_from_rim = holes.filled;
        report.unknown = holes.unknown;
    }
}

void ElevationSheet::lend_edges() {
    std::vector<std::vector<float>> east(surfaces_.size());
    std::vector<std::vector<float>> south(surfaces_.size());
    for (std::size_t tile = 0; tile < surfaces_.size(); ++tile) {
        const GridFrame& frame = surfaces_[tile].frame();
        const auto rows = static_cast<double>(frame.rows);
        const auto columns = static_cast<double>(frame.columns);
        // A post beyond the edge is needed only where no neighbour as fine shares the edge itself. A tile that runs
        // round the Earth is its own neighbour.
        const auto lent = [&](double row, double column, double edge_row, double edge_column) {
            if (shared(surfaces_, tile, frame.place(edge_row, edge_column)))
                return unknown_height;
            const bool own = frame.goes_round() && column == columns && row < rows;
            return own ? surfaces_[tile].post(static_cast<std::size_t>(row), 0)
                       : height_of_others(surfaces_, tile, frame.place(row, column));
        };
        for (std::size_t row = 0; row < frame.rows; ++row)
            east[tile].push_back(lent(static_cast<double>(row), columns, static_cast<double>(row), columns - 1.0));
        for (std::size_t column = 0; column <= frame.columns; ++column)
            south[tile].push_back(lent(rows, static_cast<double>(column), rows - 1.0,
                                       std::min(static_cast<double>(column), columns - 1.0)));
        if (none_known(east[tile]))
            east[tile].clear();
        if (none_known(south[tile]))
            south[tile].clear();
    }
    for (std::size_t tile = 0; tile < surfaces_.size(); ++tile)
        surfaces_[tile].lend(std::move(east[tile]), std::move(south[tile]));
}

void ElevationSheet::survey() {
    for (TileSurface& surface : surfaces_)
        surface.survey();
    for (std::size_t tile = surfaces_.size(); tile-- > 0;)
        for (std::size_t finer = 0; finer < tile; ++finer)
            surfaces_[tile].raise_ceilings(surfaces_[finer]);
}

GroundSample ElevationSheet::sample(Coordinate place) const {
    for (const TileSurface& surface : surfaces_)
        if (const auto at = surface.locate(place)) {
            const float height = surface.height(*at);
            if (!std::isnan(height))
                return {height, &surface, *at};
        }
    for (const TileSurface& surface : surfaces_)
        if (const auto at = surface.locate_in_margin(place)) {
            const float height = surface.height(*at);
            if (!std::isnan(height))
                return {height, nullptr, {}};
        }
    return {};
}

std::optional<Metres> ElevationSheet::height(Coordinate place) const {
    const float height = sample(place).height;
    return std::isnan(height) ? std::nullopt : std::optional(Metres{static_cast<double>(height)});
}

std::optional<Metres> ElevationSheet::highest() const {
    float highest = -std::numeric_limits<float>::infinity();
    for (const TileSurface& surface : surfaces_)
        highest = std::max(highest, surface.highest());
    return highest >= lowest_height ? std::optional(Metres{static_cast<double>(highest)}) : std::nullopt;
}

ElevationSheet read_elevation_sheet(const std::vector<std::filesystem::path>& files, SheetSettings settings) {
    std::vector<ElevationTile> tiles;
    std::vector<InputFault> faults;
    for (const auto& file : files)
        try {
            tiles.push_back(read_elevation_tile(file));
        } catch (const InputError& error) {
            faults.insert(faults.end(), error.faults().begin(), error.faults().end());
        }
    if (files.empty())
        faults.push_back({"terrain", "", "", "names no elevation tile", "name one file at least"});
    if (!faults.empty())
        throw InputError(std::move(faults));
    return ElevationSheet(std::move(tiles), settings);
}

} // namespace geo::terrain
