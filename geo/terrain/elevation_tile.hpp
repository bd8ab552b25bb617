#pragma once
/// One file of elevations as it stands: a grid of posts, some of them unknown.
///
///     const auto tile = geo::terrain::read_elevation_tile("N47E009.hgt");
///     tile.height(0, 0)   // north-west post, metres above sea level; NaN when unknown
///
/// Read are SRTM tiles (`srtm_tile.hpp`) and GeoTIFF (`geotiff_tile.hpp`); the file's content decides which.

#include "geo/terrain/grid_frame.hpp"

#include <bit>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <filesystem>
#include <limits>
#include <memory>
#include <span>
#include <string>
#include <vector>

namespace geo::terrain {

/// Heights outside are taken for marks of unknown ground (SRTM writes -32768, others -9999 or the lowest float): no
/// land lies lower than the Dead Sea's shore (-430 m) or higher than Everest (8849 m).
constexpr float lowest_height = -1000.0F;
constexpr float highest_height = 9000.0F;
constexpr float unknown_height = std::numeric_limits<float>::quiet_NaN();

class ElevationTile {
public:
    /// Row by row from the north-west, metres; anything implausible or not finite is unknown.
    ElevationTile(std::string file, GridFrame frame, std::vector<float> heights);
    /// The same as 16-bit big-endian integers that lie in `owner`'s memory, which is neither copied nor changed.
    ElevationTile(std::string file, GridFrame frame, std::shared_ptr<const void> owner,
                  std::span<const std::byte> big_endian_heights);

    const std::string& file() const { return file_; }
    const GridFrame& frame() const { return frame_; }

    /// NaN where unknown.
    float height(std::size_t row, std::size_t column) const {
        const std::size_t post = row * frame_.columns + column;
        if (!heights_.empty())
            return heights_[post];
        std::uint16_t bits = 0;
        std::memcpy(&bits, big_endian_ + 2 * post, sizeof bits);
        const auto metres = std::bit_cast<std::int16_t>(static_cast<std::uint16_t>((bits << 8U) | (bits >> 8U)));
        const auto height = static_cast<float>(metres);
        return height >= lowest_height && height <= highest_height ? height : unknown_height;
    }

    /// A whole row at once, as `height` gives it; `row_heights` has room for every column.
    void copy_row(std::size_t row, std::span<float> row_heights) const;

    /// Fills in what the file does not know. The first time, heights that lay in the file are copied.
    void set_height(std::size_t row, std::size_t column, float height);

private:
    std::string file_;
    GridFrame frame_;
    std::vector<float> heights_; ///< or empty, and then:
    std::shared_ptr<const void> owner_;
    const std::byte* big_endian_ = nullptr;
};

/// Throws InputError for a file that is missing, broken, of another kind, or not in geographic WGS 84.
ElevationTile read_elevation_tile(const std::filesystem::path& file);

} // namespace geo::terrain
