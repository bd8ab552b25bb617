#include "geo/terrain/elevation_tile.hpp"

#include "geo/input_error.hpp"
#include "geo/terrain/geotiff_tile.hpp"
#include "geo/terrain/srtm_tile.hpp"

#include <array>
#include <cassert>
#include <cerrno>
#include <fstream>
#include <system_error>

namespace geo::terrain {

ElevationTile::ElevationTile(std::string file, GridFrame frame, std::vector<float> heights)
    : file_(std::move(file)), frame_(frame), heights_(std::move(heights)) {
    assert(heights_.size() == frame.columns * frame.rows && frame.columns >= 2 && frame.rows >= 2);
    for (float& height : heights_)
        if (!(height >= lowest_height && height <= highest_height))
            height = unknown_height;
}

ElevationTile::ElevationTile(std::string file, GridFrame frame, std::shared_ptr<const void> owner,
                             std::span<const std::byte> big_endian_heights)
    : file_(std::move(file)), frame_(frame), owner_(std::move(owner)), big_endian_(big_endian_heights.data()) {
    assert(big_endian_heights.size() == 2 * frame.columns * frame.rows && frame.columns >= 2 && frame.rows >= 2);
}

void ElevationTile::copy_row(std::size_t row, std::span<float> row_heights) const {
    assert(row_heights.size() >= frame_.columns);
    for (std::size_t column = 0; column < frame_.columns; ++column)
        row_heights[column] = height(row, column);
}

void ElevationTile::set_height(std::size_t row, std::size_t column, float height) {
    if (heights_.empty()) {
        std::vector<float> copy(frame_.columns * frame_.rows);
        for (std::size_t r = 0; r < frame_.rows; ++r)
            copy_row(r, std::span(copy).subspan(r * frame_.columns));
        heights_ = std::move(copy);
        owner_.reset();
        big_endian_ = nullptr;
    }
    heights_[row * frame_.columns + column] = height;
}

ElevationTile read_elevation_tile(const std::filesystem::path& file) {
    std::error_code fault;
    if (!std::filesystem::is_regular_file(file, fault))
        throw InputError(
            {{file.string(), "", "", std::filesystem::exists(file, fault) ? "is no plain file" : "is not there",
              "name an elevation tile: SRTM .hgt, .hgt.zip or GeoTIFF"}});
    std::ifstream input(file, std::ios::binary);
    std::array<char, 4> mark{};
    if (!input)
        throw InputError({{file.string(), "", "", "can't be read: " + std::generic_category().message(errno),
                           "give yourself the right to read it"}});
    input.read(mark.data(), mark.size());
    const std::string_view first(mark.data(), static_cast<std::size_t>(input.gcount()));
    input.close();
    // Heights of an .hgt may begin with any bytes, so its name comes first.
    if (is_srtm_name(file))
        return read_srtm_tile(file);
    if (first.starts_with(std::string_view("II*\0", 4)) || first.starts_with(std::string_view("MM\0*", 4)) ||
        first.starts_with(std::string_view("II+\0", 4)) || first.starts_with(std::string_view("MM\0+", 4)))
        return read_geotiff_tile(file);
    if (first.starts_with(std::string_view("PK\3\4", 4)) && file.extension() == ".zip")
        return read_srtm_tile(file);
    throw InputError({{file.string(), "", "", "is no elevation tile that can be read",
                       "give an SRTM tile (N47E009.hgt or .hgt.zip) or a GeoTIFF"}});
}

} // namespace geo::terrain
