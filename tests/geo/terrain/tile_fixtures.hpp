#pragma once
/// Elevation files and grids made for a test.
///
///     const support::TileFolder folder;
///     support::write_hgt(folder / "N47E009.hgt", 1201, [](std::size_t row, std::size_t column) { return 100; });

#include "geo/input_error.hpp"
#include "geo/terrain/elevation_tile.hpp"

#include <cstdint>
#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace support {

/// A folder of its own, removed with all in it.
class TileFolder {
public:
    TileFolder();
    TileFolder(const TileFolder&) = delete;
    TileFolder(TileFolder&&) = delete;
    TileFolder& operator=(const TileFolder&) = delete;
    TileFolder& operator=(TileFolder&&) = delete;
    ~TileFolder();
    std::filesystem::path operator/(const std::string& name) const { return path_ / name; }
    const std::filesystem::path& path() const { return path_; }

private:
    std::filesystem::path path_;
};

using PostHeight = std::function<double(std::size_t row, std::size_t column)>;

std::string hgt_bytes(std::size_t side, const PostHeight& height);
void write_bytes(const std::filesystem::path& file, const std::string& bytes);
void write_hgt(const std::filesystem::path& file, std::size_t side, const PostHeight& height);

struct ZipMember {
    std::string name;
    std::string bytes;
    const char* password = nullptr;
};
void write_zip(const std::filesystem::path& file, const std::vector<ZipMember>& members);

enum class TiffSample { int16, uint16, int32, float32, float64, uint8 };

/// A GeoTIFF; the defaults make a good one: geographic WGS 84, 40 x 30 posts of one arc second, pixels as areas.
struct TiffRecipe {
    std::size_t columns = 40;
    std::size_t rows = 30;
    TiffSample sample = TiffSample::float32;
    std::uint16_t compression = 1;
    std::uint16_t predictor = 1;
    std::size_t tile = 0; ///< side of a tile, 0 for strips of 7 rows
    bool big_endian = false;
    bool big_tiff = false;
    std::uint16_t bands = 1;
    std::vector<double> scale{1.0 / 3600.0, 1.0 / 3600.0, 0.0};
    std::vector<double> tie{0.0, 0.0, 0.0, 9.0, 48.0, 0.0};
    std::vector<double> transformation;
    std::vector<std::uint16_t> keys{1, 1, 0, 3, 1024, 0, 1, 2, 1025, 0, 1, 1, 2048, 0, 1, 4326};
    std::string no_data;
    std::string metadata;
    std::optional<std::uint32_t> left_out; ///< this tile or strip is not written
    /// Bytes of each row's strip as they go into the file, instead of what libtiff makes of the heights.
    std::function<std::string(std::size_t row)> packed_by_hand;
};
void write_tiff(const std::filesystem::path& file, const TiffRecipe& recipe, const PostHeight& height);

/// The message of the InputError that `call` throws, "" when it throws none.
std::string fault_of(const std::function<void()>& call);

/// A grid in memory over a place: height of the ground by metres east and north of it, on geodesics from there.
geo::terrain::ElevationTile ground_around(geo::Coordinate centre, geo::Degrees half_side, geo::Degrees step,
                                          const std::function<double(double distance, double azimuth)>& height);

} // namespace support
