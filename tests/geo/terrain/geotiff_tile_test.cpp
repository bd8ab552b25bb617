#include "geo/terrain/geotiff_tile.hpp"

#include "tests/geo/terrain/tile_fixtures.hpp"

#include <doctest/doctest.h>

#include <tiffio.h>
#include <zlib.h>

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstdarg>
#include <fstream>

using namespace geo::literals;
using geo::terrain::ElevationTile;
using geo::terrain::read_elevation_tile;
using support::fault_of;
using support::TiffRecipe;
using support::TiffSample;
using support::TileFolder;
using support::write_tiff;

namespace {

double sloping(std::size_t row, std::size_t column) {
    return 1200.0 + 5.0 * static_cast<double>(row) - 3.0 * static_cast<double>(column);
}

ElevationTile read_back(const TiffRecipe& recipe, const support::PostHeight& height = sloping) {
    const TileFolder folder;
    write_tiff(folder / "heights.tif", recipe, height);
    return read_elevation_tile(folder / "heights.tif");
}

std::string fault_with(const TiffRecipe& recipe) {
    return fault_of([&] { (void)read_back(recipe); });
}

bool contains(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

/// libtiff 4.5 writes big-endian floats behind the floating point predictor wrongly; they have their own test.
bool is_possible(const TiffRecipe& recipe) {
    const bool floats = recipe.sample == TiffSample::float32 || recipe.sample == TiffSample::float64;
    const bool predicts = recipe.compression != COMPRESSION_NONE && recipe.compression != COMPRESSION_PACKBITS;
    if (recipe.predictor == 3)
        return predicts && floats && !recipe.big_endian;
    return recipe.predictor == 1 || (predicts && recipe.sample != TiffSample::float64);
}

std::vector<TiffRecipe> all_ways_of_storing() {
    std::vector<TiffRecipe> all{{}};
    // Every list doubles, trebles ... what there is.
    const auto vary = [&](const auto& choices, const auto& set) {
        std::vector<TiffRecipe> more;
        for (const TiffRecipe& recipe : all)
            for (const auto choice : choices) {
                more.push_back(recipe);
                set(more.back(), choice);
            }
        all = std::move(more);
    };
    vary(std::array{TiffSample::int16, TiffSample::uint16, TiffSample::int32, TiffSample::float32, TiffSample::float64},
         [](TiffRecipe& recipe, TiffSample sample) { recipe.sample = sample; });
    vary(std::array{COMPRESSION_NONE, COMPRESSION_LZW, COMPRESSION_ADOBE_DEFLATE, COMPRESSION_DEFLATE,
                    COMPRESSION_PACKBITS},
         [](TiffRecipe& recipe, int compression) { recipe.compression = static_cast<std::uint16_t>(compression); });
    vary(std::array{0, 16, 64}, [](TiffRecipe& recipe, int tile) {
        recipe.tile = static_cast<std::size_t>(tile);
        recipe.big_tiff = tile == 64;
    });
    vary(std::array{false, true}, [](TiffRecipe& recipe, bool big) { recipe.big_endian = big; });
    vary(std::array{1, 2, 3},
         [](TiffRecipe& recipe, int predictor) { recipe.predictor = static_cast<std::uint16_t>(predictor); });
    all.erase(std::remove_if(all.begin(), all.end(), [](const TiffRecipe& recipe) { return !is_possible(recipe); }),
              all.end());
    return all;
}

std::string bytes_of(const std::filesystem::path& file) {
    std::string bytes(std::filesystem::file_size(file), '\0');
    std::ifstream(file, std::ios::binary).read(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    return bytes;
}

} // namespace

TEST_CASE("every way of storing heights in a GeoTIFF reads alike") {
    std::size_t kinds = 0;
    for (const TiffRecipe& recipe : all_ways_of_storing()) {
        CAPTURE(static_cast<int>(recipe.sample));
        CAPTURE(recipe.compression);
        CAPTURE(recipe.tile);
        CAPTURE(recipe.big_endian);
        CAPTURE(recipe.predictor);
        const ElevationTile read = read_back(recipe);
        int wrong = 0;
        for (std::size_t row = 0; row < recipe.rows; ++row)
            for (std::size_t column = 0; column < recipe.columns; ++column)
                wrong += read.height(row, column) != static_cast<float>(sloping(row, column)) ? 1 : 0;
        CHECK(wrong == 0);
        ++kinds;
    }
    CHECK(kinds > 200);
}

TEST_CASE("big-endian floats behind the floating point predictor read right") {
    // Packed by hand after Adobe Photoshop TIFF Technical Note 3 (2005): bytes of a row by rank, highest first, then
    // differences of bytes.
    TiffRecipe recipe;
    recipe.compression = COMPRESSION_ADOBE_DEFLATE;
    recipe.predictor = 3;
    recipe.big_endian = true;
    recipe.packed_by_hand = [&](std::size_t row) {
        std::string bytes(4 * recipe.columns, '\0');
        for (std::size_t column = 0; column < recipe.columns; ++column) {
            const auto bits = std::bit_cast<std::uint32_t>(static_cast<float>(sloping(row, column)));
            for (std::size_t rank = 0; rank < 4; ++rank)
                bytes[rank * recipe.columns + column] = static_cast<char>(bits >> (24U - 8U * rank));
        }
        for (std::size_t place = bytes.size(); place-- > 1;)
            bytes[place] = static_cast<char>(bytes[place] - bytes[place - 1]);
        std::string packed(compressBound(bytes.size()), '\0');
        uLongf size = packed.size();
        REQUIRE(compress(reinterpret_cast<Bytef*>(packed.data()), &size, reinterpret_cast<const Bytef*>(bytes.data()),
                         bytes.size()) == Z_OK);
        return packed.substr(0, size);
    };
    const ElevationTile tile = read_back(recipe);
    for (std::size_t row = 0; row < recipe.rows; ++row)
        for (std::size_t column = 0; column < recipe.columns; ++column)
            REQUIRE(tile.height(row, column) == static_cast<float>(sloping(row, column)));
}

TEST_CASE("a pixel that is an area has its post in the middle, one that is a point on the tie point") {
    // OGC 19-008r4, 7.2.1: raster point (0, 0) is the first pixel's corner, or its post.
    TiffRecipe recipe;
    const double second = 1.0 / 3600.0;
    const auto is_near = [](geo::Coordinate a, double latitude, double longitude) {
        return std::abs(a.latitude.value - latitude) < 1e-12 && std::abs(a.longitude.value - longitude) < 1e-12;
    };
    CHECK(is_near(read_back(recipe).frame().place(0, 0), 48.0 - second / 2, 9.0 + second / 2));
    recipe.keys[11] = 2;
    CHECK(is_near(read_back(recipe).frame().place(0, 0), 48.0, 9.0));
    recipe.tie = {3.0, 2.0, 0.0, 9.0, 48.0, 0.0}; // tied down at another raster point
    CHECK(is_near(read_back(recipe).frame().place(2, 3), 48.0, 9.0));
    recipe.keys[11] = 1;
    CHECK(is_near(read_back(recipe).frame().place(2, 3), 48.0 - second / 2, 9.0 + second / 2));
    recipe.keys = {1, 1, 0, 2, 1024, 0, 1, 2, 2048, 0, 1, 4326}; // says neither: an area
    CHECK(is_near(read_back(recipe).frame().place(2, 3), 48.0 - second / 2, 9.0 + second / 2));
}

TEST_CASE("a transformation matrix says the same as scale and tie point") {
    TiffRecipe recipe;
    const auto by_tie = read_back(recipe).frame();
    const double second = recipe.scale[0];
    recipe.scale.clear();
    recipe.tie.clear();
    recipe.transformation = {second, 0, 0, 9.0, 0, -second, 0, 48.0, 0, 0, 0, 0, 0, 0, 0, 1};
    CHECK(read_back(recipe).frame() == by_tie);
}

TEST_CASE("WGS 84 is known by its code in two or three dimensions, or by its ellipsoid") {
    TiffRecipe recipe;
    recipe.keys[15] = 4979;
    CHECK(read_back(recipe).frame().rows == 30);
    recipe.keys = {1, 1, 0, 4, 1024, 0, 1, 2, 1025, 0, 1, 1, 2048, 0, 1, 32767, 2056, 0, 1, 7030};
    CHECK(read_back(recipe).frame().rows == 30);
}

TEST_CASE("longitudes beyond 180 come back into the world") {
    TiffRecipe recipe;
    recipe.tie[3] = 190.0;
    CHECK(std::abs(read_back(recipe).frame().west.value - (-170.0 + 0.5 / 3600.0)) < 1e-9);
}

TEST_CASE("unknown ground is what the file marks, what is no number, and what is no height") {
    TiffRecipe recipe;
    recipe.no_data = "777.5";
    const auto with_gaps = [](std::size_t row, std::size_t column) {
        if (row == 3)
            return column == 0   ? 777.5
                   : column == 1 ? std::nan("")
                   : column == 2 ? -3.4e38
                   : column == 3 ? -9999.0
                                 : 5.0;
        return 100.0;
    };
    for (const auto sample : {TiffSample::float32, TiffSample::float64}) {
        recipe.sample = sample;
        const ElevationTile tile = read_back(recipe, with_gaps);
        for (std::size_t column = 0; column < 4; ++column)
            CHECK(std::isnan(tile.height(3, column)));
        CHECK(tile.height(3, 4) == 5.0F);
        CHECK(tile.height(4, 0) == 100.0F);
    }
    for (const char* mark : {"0", " 0 ", "+0.0", "0e0"}) {
        TiffRecipe whole;
        whole.sample = TiffSample::int16;
        whole.no_data = mark;
        const ElevationTile tile =
            read_back(whole, [](std::size_t row, std::size_t) { return static_cast<double>(row); });
        CHECK(std::isnan(tile.height(0, 0)));
        CHECK(tile.height(1, 0) == 1.0F);
    }
    for (const char* mark : {"nan", "-1.7976931348623157e+308", "1e999", "70000"}) { // no 16-bit height is that
        TiffRecipe whole;
        whole.sample = TiffSample::uint16;
        whole.no_data = mark;
        CHECK(read_back(whole).height(0, 0) == 1200.0F);
    }
}

TEST_CASE("a block left out of the file is unknown ground") {
    for (const std::size_t side : {0U, 16U}) {
        TiffRecipe recipe;
        recipe.tile = side;
        recipe.left_out = 1;
        const ElevationTile tile = read_back(recipe);
        CHECK(tile.height(0, 0) == 1200.0F);
        CHECK(std::isnan(side == 0 ? tile.height(7, 0) : tile.height(0, 16)));
        CHECK_FALSE(std::isnan(tile.height(29, 39)));
    }
}

TEST_CASE("a map in another reference system is refused with file, field, value and mend") {
    const auto fault_of_keys = [](const std::vector<std::uint16_t>& keys) {
        TiffRecipe recipe;
        recipe.keys = keys;
        return fault_with(recipe);
    };
    CHECK(contains(fault_of_keys({1, 1, 0, 2, 1024, 0, 1, 1, 3072, 0, 1, 32632}),
                   "heights.tif: GTModelType: \"1\" is a projected map; convert it to geographic WGS 84 (EPSG:4326)"));
    CHECK(contains(fault_of_keys({1, 1, 0, 1, 1024, 0, 1, 3}),
                   "GTModelType: \"3\" is no geographic reference system; convert it"));
    CHECK(contains(fault_of_keys({1, 1, 0, 2, 1024, 0, 1, 2, 2048, 0, 1, 4269}),
                   "GeodeticCRS: \"4269\" is not WGS 84; convert it"));
    CHECK(contains(fault_of_keys({1, 1, 0, 3, 1024, 0, 1, 2, 2048, 0, 1, 4326, 2051, 0, 1, 8903}),
                   "PrimeMeridian: \"8903\" is not Greenwich"));
    CHECK(contains(fault_of_keys({1, 1, 0, 3, 1024, 0, 1, 2, 2048, 0, 1, 4326, 2054, 0, 1, 9101}),
                   "GeogAngularUnits: \"9101\" is not degrees"));
    CHECK(contains(fault_of_keys({1, 1, 0, 3, 1024, 0, 1, 2, 2048, 0, 1, 4326, 4099, 0, 1, 9002}),
                   "VerticalUnits: \"9002\" is not metres; convert its heights to metres"));
    CHECK(contains(fault_of_keys({1, 1, 0, 3, 1024, 0, 1, 2, 2048, 0, 1, 4326, 1025, 0, 1, 5}),
                   "GTRasterType: \"5\" is neither pixel-is-area (1) nor pixel-is-point (2)"));
    CHECK(contains(fault_of_keys({}), "GeoKeyDirectory: is missing: this TIFF does not say where it lies"));
    CHECK(contains(fault_of_keys({1, 1, 0, 9, 1024, 0, 1, 2}), "GeoKeyDirectory: is broken"));
}

TEST_CASE("a grid that does not lie north up on the Earth is refused") {
    const auto fault_of_change = [](const auto& change) {
        TiffRecipe recipe;
        change(recipe);
        return fault_with(recipe);
    };
    CHECK(contains(fault_of_change([](TiffRecipe& r) { r.scale.clear(); }),
                   "ModelPixelScale: or ModelTiepoint is missing"));
    CHECK(contains(fault_of_change([](TiffRecipe& r) { r.tie.clear(); }),
                   "ModelPixelScale: or ModelTiepoint is missing"));
    CHECK(contains(fault_of_change([](TiffRecipe& r) { r.scale[1] = -r.scale[1]; }),
                   "does not run east and south; give a GeoTIFF with rows along parallels"));
    CHECK(contains(fault_of_change([](TiffRecipe& r) {
                       r.scale.clear();
                       r.transformation = {0.1, 0.01, 0, 9.0, 0, -0.1, 0, 48.0, 0, 0, 0, 0, 0, 0, 0, 1};
                   }),
                   "ModelTransformation: turns the rows"));
    CHECK(contains(fault_of_change([](TiffRecipe& r) { r.tie[4] = 91.0; }), "lies off the Earth"));
    CHECK(contains(fault_of_change([](TiffRecipe& r) { r.tie[4] = std::nan(""); }),
                   "ModelTiepoint: is not a number; get the file again"));
    CHECK(contains(fault_of_change([](TiffRecipe& r) { r.rows = 1; }),
                   "ImageWidth, ImageLength: \"40 x 1\" is too small for a grid"));
}

TEST_CASE("a picture, a strange sample or a mark that is no number is refused") {
    TiffRecipe bands;
    bands.bands = 3;
    CHECK(contains(fault_with(bands), "SamplesPerPixel: \"3\" is more than one band; give the elevations alone"));
    TiffRecipe bytes;
    bytes.sample = TiffSample::uint8;
    CHECK(contains(fault_with(bytes), "SampleFormat: \"8-bit unsigned integers\" is no way elevations are stored"));
    TiffRecipe mark;
    mark.no_data = "none";
    CHECK(contains(fault_with(mark), "GDAL_NODATA: \"none\" is not a number"));
    TiffRecipe scaled;
    scaled.metadata = R"(<GDALMetadata><Item name="SCALE" sample="0" role="scale">0.1</Item></GDALMetadata>)";
    CHECK(contains(fault_with(scaled), "GDAL_METADATA: scales or shifts the stored heights; write the heights"));
    scaled.metadata = R"(<GDALMetadata><Item name="AREA">alps</Item></GDALMetadata>)";
    CHECK(fault_with(scaled).empty());
}

TEST_CASE("a GeoTIFF too large to hold or packed in an unknown way is refused before it is unpacked") {
    // The tags are changed in the finished file: classic little-endian TIFF, entries of 12 bytes, value at 8.
    const auto fault_with_tag = [](std::uint16_t tag, std::uint32_t value) {
        const TileFolder folder;
        write_tiff(folder / "heights.tif", {}, sloping);
        std::string bytes = bytes_of(folder / "heights.tif");
        const auto at = [&](std::size_t place, std::size_t size) {
            std::uint32_t number = 0;
            for (std::size_t byte = size; byte-- > 0;)
                number = (number << 8U) | static_cast<unsigned char>(bytes[place + byte]);
            return number;
        };
        const std::size_t directory = at(4, 4);
        for (std::size_t entry = 0; entry < at(directory, 2); ++entry)
            if (const std::size_t place = directory + 2 + 12 * entry; at(place, 2) == tag) {
                bytes[place + 2] = 4; // LONG
                const std::size_t size = 4;
                for (std::size_t byte = 0; byte < size; ++byte)
                    bytes[place + 8 + byte] = static_cast<char>(value >> (8U * byte));
            }
        support::write_bytes(folder / "heights.tif", bytes);
        return fault_of([&] { (void)read_elevation_tile(folder / "heights.tif"); });
    };
    CHECK(contains(fault_with_tag(TIFFTAG_COMPRESSION, 31999), "Compression: \"31999\" can't be unpacked"));
    CHECK(contains(fault_with_tag(TIFFTAG_IMAGEWIDTH, 60000), "is cut short or damaged"));
    CHECK(contains(fault_with_tag(TIFFTAG_ROWSPERSTRIP, 0), "heights.tif: "));
    CHECK(contains(fault_with_tag(TIFFTAG_IMAGEWIDTH, 10000000),
                   "ImageWidth, ImageLength: \"10000000 x 30\" is too large to hold; cut it"));
    CHECK(fault_with_tag(TIFFTAG_IMAGELENGTH, 30) == "");
}

TEST_CASE("a GeoTIFF cut short anywhere is refused, never half read") {
    const TileFolder folder;
    TiffRecipe recipe;
    recipe.tile = 16;
    recipe.compression = COMPRESSION_ADOBE_DEFLATE;
    write_tiff(folder / "heights.tif", recipe, sloping);
    const std::string whole = bytes_of(folder / "heights.tif");
    static int printed = 0;
    const auto count = [](const char*, const char*, va_list) { ++printed; };
    const auto errors = TIFFSetErrorHandler(count);
    const auto warnings = TIFFSetWarningHandler(count);
    int refused = 0;
    for (std::size_t size = 4; size < whole.size(); size += 7) {
        support::write_bytes(folder / "cut.tif", whole.substr(0, size));
        const std::string fault = fault_of([&] { (void)read_elevation_tile(folder / "cut.tif"); });
        CAPTURE(size);
        CHECK(contains(fault, "cut.tif: "));
        ++refused;
    }
    TIFFSetErrorHandler(errors);
    TIFFSetWarningHandler(warnings);
    CHECK(refused > 50);
    CHECK_MESSAGE(printed == 0, "libtiff's own words stay out of standard error");
}

TEST_CASE("a GeoTIFF with a changed byte is refused or read, and never ends the program") {
    const TileFolder folder;
    TiffRecipe recipe;
    recipe.compression = COMPRESSION_LZW;
    write_tiff(folder / "heights.tif", recipe, sloping);
    const std::string whole = bytes_of(folder / "heights.tif");
    int refused = 0;
    for (std::size_t place = 0; place < whole.size(); place += 3) {
        std::string changed = whole;
        changed[place] = static_cast<char>(changed[place] ^ (1 << (place % 8)));
        support::write_bytes(folder / "changed.tif", changed);
        refused += fault_of([&] { (void)read_elevation_tile(folder / "changed.tif"); }).empty() ? 0 : 1;
    }
    CHECK(refused > 10);
}
