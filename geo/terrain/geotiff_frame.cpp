#include "geo/terrain/geotiff_frame.hpp"

#include "geo/terrain/tiff_file.hpp"

#include <array>
#include <cmath>
#include <map>

namespace geo::terrain {

namespace {

// Keys and codes of OGC 19-008r4, annex B, and of the EPSG registry it refers to.
constexpr std::uint16_t model_type = 1024;
constexpr std::uint16_t raster_type = 1025;
constexpr std::uint16_t geodetic_system = 2048;
constexpr std::uint16_t ellipsoid = 2056;
constexpr std::uint16_t prime_meridian = 2051;
constexpr std::uint16_t angular_units = 2054;
constexpr std::uint16_t vertical_units = 4099;
constexpr std::uint16_t geographic_2d = 2;
constexpr std::uint16_t pixel_is_area = 1;
constexpr std::uint16_t pixel_is_point = 2;
constexpr std::uint16_t user_defined = 32767;
constexpr std::uint16_t wgs84 = 4326;
constexpr std::uint16_t wgs84_3d = 4979;
constexpr std::uint16_t wgs84_ellipsoid = 7030;
constexpr std::uint16_t greenwich = 8901;
constexpr std::uint16_t degree = 9102;
constexpr std::uint16_t metre = 9001;

const char* const convert = "convert it to geographic WGS 84 (EPSG:4326)";

class GeoKeys {
public:
    explicit GeoKeys(const TiffFile& tiff) : tiff_(tiff) {
        const auto directory = tiff.shorts(geo_key_directory);
        if (directory.empty())
            tiff.refuse("GeoKeyDirectory", "", "is missing: this TIFF does not say where it lies",
                        "give a GeoTIFF in geographic WGS 84");
        if (directory.size() < 4 || directory[0] != 1 || directory.size() < 4 * (std::size_t{directory[3]} + 1))
            tiff.refuse("GeoKeyDirectory", "", "is broken", "get the file again");
        for (std::size_t key = 1; key <= directory[3]; ++key)
            if (directory[4 * key + 1] == 0) // its value stands here, not in another tag
                values_[directory[4 * key]] = directory[4 * key + 3];
    }

    std::uint16_t get(std::uint16_t key, std::uint16_t otherwise) const {
        const auto found = values_.find(key);
        return found == values_.end() ? otherwise : found->second;
    }

    void require(std::uint16_t key, const char* name, std::initializer_list<std::uint16_t> allowed, const char* problem,
                 const char* mend) const {
        const auto value = get(key, *allowed.begin());
        for (const auto good : allowed)
            if (value == good)
                return;
        tiff_.refuse(name, std::to_string(value), problem, mend);
    }

private:
    const TiffFile& tiff_;
    std::map<std::uint16_t, std::uint16_t> values_;
};

void require_wgs84(const TiffFile& tiff, const GeoKeys& keys) {
    const auto model = keys.get(model_type, 0);
    if (model != geographic_2d)
        tiff.refuse("GTModelType", std::to_string(model),
                    model == 1 ? "is a projected map" : "is no geographic reference system", convert);
    const auto system = keys.get(geodetic_system, user_defined);
    const bool is_wgs84 =
        system == wgs84 || system == wgs84_3d || (system == user_defined && keys.get(ellipsoid, 0) == wgs84_ellipsoid);
    if (!is_wgs84)
        tiff.refuse("GeodeticCRS", std::to_string(system), "is not WGS 84", convert);
    keys.require(prime_meridian, "PrimeMeridian", {greenwich}, "is not Greenwich", convert);
    keys.require(angular_units, "GeogAngularUnits", {degree}, "is not degrees", convert);
    keys.require(vertical_units, "VerticalUnits", {metre}, "is not metres", "convert its heights to metres");
    keys.require(raster_type, "GTRasterType", {pixel_is_area, pixel_is_point},
                 "is neither pixel-is-area (1) nor pixel-is-point (2)", "get the file again");
}

/// Raster column and row to longitude and latitude.
struct Mapping {
    double column = 0.0; ///< of the raster point tied down
    double row = 0.0;
    double longitude = 0.0;
    double latitude = 0.0;
    double step_east = 0.0;
    double step_south = 0.0;
};

Mapping mapping_of(const TiffFile& tiff) {
    const auto scale = tiff.doubles(model_pixel_scale);
    const auto tie = tiff.doubles(model_tiepoint);
    const auto matrix = tiff.doubles(model_transformation);
    if (scale.size() >= 2 && tie.size() >= 6)
        return {tie[0], tie[1], tie[3], tie[4], scale[0], scale[1]};
    if (matrix.size() < 16)
        tiff.refuse("ModelPixelScale", "", "or ModelTiepoint is missing: this TIFF does not say where it lies",
                    "give a GeoTIFF with a pixel scale and one tie point");
    if (matrix[1] != 0.0 || matrix[4] != 0.0)
        tiff.refuse("ModelTransformation", "", "turns the rows", "give a GeoTIFF with rows along parallels, north up");
    return {0.0, 0.0, matrix[3], matrix[7], matrix[0], -matrix[5]};
}

} // namespace

GridFrame geotiff_frame(const TiffFile& tiff) {
    const GeoKeys keys(tiff);
    require_wgs84(tiff, keys);
    const Mapping mapping = mapping_of(tiff);
    for (const double number : {mapping.column, mapping.row, mapping.longitude, mapping.latitude})
        if (!std::isfinite(number))
            tiff.refuse("ModelTiepoint", "", "is not a number", "get the file again");
    if (!(mapping.step_east > 0.0 && mapping.step_south > 0.0 && std::isfinite(mapping.step_east + mapping.step_south)))
        tiff.refuse("ModelPixelScale", std::to_string(mapping.step_east) + " " + std::to_string(mapping.step_south),
                    "does not run east and south", "give a GeoTIFF with rows along parallels, north up");

    const auto columns = tiff.tag<std::uint32_t>(TIFFTAG_IMAGEWIDTH).value_or(0);
    const auto rows = tiff.tag<std::uint32_t>(TIFFTAG_IMAGELENGTH).value_or(0);
    constexpr double most_posts = 268435456.0; // 1 GiB of floats
    const std::string size = std::to_string(columns) + " x " + std::to_string(rows);
    if (columns < 2 || rows < 2)
        tiff.refuse("ImageWidth, ImageLength", size, "is too small for a grid", "give two rows and columns at least");
    if (static_cast<double>(columns) * rows > most_posts)
        tiff.refuse("ImageWidth, ImageLength", size, "is too large to hold", "cut it to the surroundings of the shoot");

    // Raster point (0, 0) is the corner of the first pixel when pixels are areas, its post when they are points
    // (19-008r4, 7.2.1 and annex C).
    const double first_post = keys.get(raster_type, pixel_is_area) == pixel_is_area ? 0.5 : 0.0;
    const double west = mapping.longitude + (first_post - mapping.column) * mapping.step_east;
    const double north = mapping.latitude - (first_post - mapping.row) * mapping.step_south;
    const double width = columns * mapping.step_east;
    const double south = north - (rows - 1) * mapping.step_south;
    const double lee = 0.5 * mapping.step_south; // some models tie their outermost posts a rounding beyond the pole
    if (std::abs(west) > 540.0 || width > 360.0 + mapping.step_east || north > 90.0 + lee || south < -90.0 - lee)
        tiff.refuse("ModelTiepoint", std::to_string(north) + " " + std::to_string(west), "lies off the Earth", convert);
    GridFrame frame{{std::remainder(west, 360.0)}, {north}, {mapping.step_east}, {mapping.step_south}, columns, rows};
    if (frame.west.value >= 180.0)
        frame.west.value -= 360.0;
    return frame;
}

} // namespace geo::terrain
