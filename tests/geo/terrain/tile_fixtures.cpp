#include "tests/geo/terrain/tile_fixtures.hpp"

#include <minizip/zip.h>
#include <tiffio.h>

#include <array>
#include <cmath>
#include <cstdlib>
#include <cstring>
#include <fstream>
#include <numbers>
#include <stdexcept>

namespace support {

TileFolder::TileFolder() {
    std::string name = (std::filesystem::temp_directory_path() / "dayweave_tiles_XXXXXX").string();
    if (mkdtemp(name.data()) == nullptr)
        throw std::runtime_error("no temporary folder");
    path_ = name;
}

TileFolder::~TileFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
}

std::string hgt_bytes(std::size_t side, const PostHeight& height) {
    std::string bytes;
    bytes.reserve(2 * side * side);
    for (std::size_t row = 0; row < side; ++row)
        for (std::size_t column = 0; column < side; ++column) {
            const auto value = static_cast<std::uint16_t>(static_cast<std::int16_t>(height(row, column)));
            bytes += static_cast<char>(value >> 8U);
            bytes += static_cast<char>(value & 0xFFU);
        }
    return bytes;
}

void write_bytes(const std::filesystem::path& file, const std::string& bytes) {
    std::ofstream(file, std::ios::binary) << bytes;
}

void write_hgt(const std::filesystem::path& file, std::size_t side, const PostHeight& height) {
    write_bytes(file, hgt_bytes(side, height));
}

void write_zip(const std::filesystem::path& file, const std::vector<ZipMember>& members) {
    const zipFile archive = zipOpen64(file.c_str(), APPEND_STATUS_CREATE);
    for (const ZipMember& member : members) {
        const zip_fileinfo info{};
        zipOpenNewFileInZip3(archive, member.name.c_str(), &info, nullptr, 0, nullptr, 0, nullptr, Z_DEFLATED, 1, 0,
                             -MAX_WBITS, DEF_MEM_LEVEL, Z_DEFAULT_STRATEGY, member.password, 0);
        zipWriteInFileInZip(archive, member.bytes.data(), static_cast<unsigned>(member.bytes.size()));
        zipCloseFileInZip(archive);
    }
    zipClose(archive, nullptr);
}

namespace {

struct SampleForm {
    std::uint16_t bits;
    std::uint16_t format;
};

SampleForm form_of(TiffSample sample) {
    switch (sample) {
    case TiffSample::int16:
        return {16, SAMPLEFORMAT_INT};
    case TiffSample::uint16:
        return {16, SAMPLEFORMAT_UINT};
    case TiffSample::int32:
        return {32, SAMPLEFORMAT_INT};
    case TiffSample::float32:
        return {32, SAMPLEFORMAT_IEEEFP};
    case TiffSample::float64:
        return {64, SAMPLEFORMAT_IEEEFP};
    case TiffSample::uint8:
        return {8, SAMPLEFORMAT_UINT};
    }
    throw std::logic_error("unknown sample");
}

template <class Sample>
void put(std::byte* to, double value) {
    const auto sample = static_cast<Sample>(value);
    std::memcpy(to, &sample, sizeof sample);
}

void put_sample(std::byte* to, TiffSample sample, double value) {
    switch (sample) {
    case TiffSample::int16:
        return put<std::int16_t>(to, value);
    case TiffSample::uint16:
        return put<std::uint16_t>(to, value);
    case TiffSample::int32:
        return put<std::int32_t>(to, value);
    case TiffSample::float32:
        return put<float>(to, value);
    case TiffSample::float64:
        return put<double>(to, value);
    case TiffSample::uint8:
        return put<std::uint8_t>(to, value);
    }
}

void set_geo_tags(TIFF* tiff, const TiffRecipe& recipe) {
    static std::array<char, 8> name{"geo"};
    const std::array<TIFFFieldInfo, 6> fields{{
        {42112, TIFF_VARIABLE, TIFF_VARIABLE, TIFF_ASCII, FIELD_CUSTOM, 1, 0, name.data()},
        {33550, TIFF_VARIABLE, TIFF_VARIABLE, TIFF_DOUBLE, FIELD_CUSTOM, 1, 1, name.data()},
        {33922, TIFF_VARIABLE, TIFF_VARIABLE, TIFF_DOUBLE, FIELD_CUSTOM, 1, 1, name.data()},
        {34264, TIFF_VARIABLE, TIFF_VARIABLE, TIFF_DOUBLE, FIELD_CUSTOM, 1, 1, name.data()},
        {34735, TIFF_VARIABLE, TIFF_VARIABLE, TIFF_SHORT, FIELD_CUSTOM, 1, 1, name.data()},
        {42113, TIFF_VARIABLE, TIFF_VARIABLE, TIFF_ASCII, FIELD_CUSTOM, 1, 0, name.data()},
    }};
    TIFFMergeFieldInfo(tiff, fields.data(), fields.size());
    const auto set = [&](std::uint32_t tag, const auto& values) {
        if (!values.empty())
            TIFFSetField(tiff, tag, static_cast<int>(values.size()), values.data());
    };
    set(33550, recipe.scale);
    set(33922, recipe.tie);
    set(34264, recipe.transformation);
    set(34735, recipe.keys);
    if (!recipe.metadata.empty())
        TIFFSetField(tiff, 42112, recipe.metadata.c_str());
    if (!recipe.no_data.empty())
        TIFFSetField(tiff, 42113, recipe.no_data.c_str());
}

} // namespace

void write_tiff(const std::filesystem::path& file, const TiffRecipe& recipe, const PostHeight& height) {
    const std::string mode = std::string("w") + (recipe.big_endian ? "b" : "l") + (recipe.big_tiff ? "8" : "");
    TIFFSetWarningHandler(nullptr); // old kinds of deflate are written on purpose
    TIFF* const tiff = TIFFOpen(file.c_str(), mode.c_str());
    const SampleForm form = form_of(recipe.sample);
    TIFFSetField(tiff, TIFFTAG_IMAGEWIDTH, static_cast<std::uint32_t>(recipe.columns));
    TIFFSetField(tiff, TIFFTAG_IMAGELENGTH, static_cast<std::uint32_t>(recipe.rows));
    TIFFSetField(tiff, TIFFTAG_BITSPERSAMPLE, form.bits);
    TIFFSetField(tiff, TIFFTAG_SAMPLEFORMAT, form.format);
    TIFFSetField(tiff, TIFFTAG_SAMPLESPERPIXEL, recipe.bands);
    TIFFSetField(tiff, TIFFTAG_PLANARCONFIG, PLANARCONFIG_CONTIG);
    TIFFSetField(tiff, TIFFTAG_PHOTOMETRIC, PHOTOMETRIC_MINISBLACK);
    TIFFSetField(tiff, TIFFTAG_COMPRESSION, recipe.compression);
    if (recipe.predictor != 1)
        TIFFSetField(tiff, TIFFTAG_PREDICTOR, recipe.predictor);
    const std::size_t strip_rows = recipe.packed_by_hand ? 1 : 7;
    if (recipe.tile != 0) {
        TIFFSetField(tiff, TIFFTAG_TILEWIDTH, static_cast<std::uint32_t>(recipe.tile));
        TIFFSetField(tiff, TIFFTAG_TILELENGTH, static_cast<std::uint32_t>(recipe.tile));
    } else {
        TIFFSetField(tiff, TIFFTAG_ROWSPERSTRIP, static_cast<std::uint32_t>(strip_rows));
    }
    set_geo_tags(tiff, recipe);

    for (std::size_t row = 0; recipe.packed_by_hand && row < recipe.rows; ++row) {
        std::string packed = recipe.packed_by_hand(row);
        TIFFWriteRawStrip(tiff, static_cast<std::uint32_t>(row), packed.data(), static_cast<tmsize_t>(packed.size()));
    }
    if (recipe.packed_by_hand)
        return TIFFClose(tiff);

    const std::size_t bytes = form.bits / 8U;
    const std::size_t width = recipe.tile != 0 ? recipe.tile : recipe.columns;
    const std::size_t block_rows = recipe.tile != 0 ? recipe.tile : strip_rows;
    std::uint32_t index = 0;
    for (std::size_t top = 0; top < recipe.rows; top += block_rows)
        for (std::size_t left = 0; left < recipe.columns; left += width, ++index) {
            const std::size_t rows = recipe.tile != 0 ? block_rows : std::min(block_rows, recipe.rows - top);
            std::vector<std::byte> block(rows * width * bytes * recipe.bands);
            for (std::size_t row = 0; row < rows && top + row < recipe.rows; ++row)
                for (std::size_t column = 0; column < width && left + column < recipe.columns; ++column)
                    for (std::size_t band = 0; band < recipe.bands; ++band)
                        put_sample(block.data() + ((row * width + column) * recipe.bands + band) * bytes, recipe.sample,
                                   height(top + row, left + column));
            if (recipe.left_out == index)
                continue;
            if (recipe.tile != 0)
                TIFFWriteEncodedTile(tiff, index, block.data(), static_cast<tmsize_t>(block.size()));
            else
                TIFFWriteEncodedStrip(tiff, index, block.data(), static_cast<tmsize_t>(block.size()));
        }
    TIFFClose(tiff);
}

std::string fault_of(const std::function<void()>& call) {
    try {
        call();
    } catch (const geo::InputError& error) {
        return error.what();
    }
    return "";
}

namespace {

using Vector = std::array<double, 3>;

constexpr double radians = std::numbers::pi / 180.0;

Vector on_ellipsoid(double latitude, double longitude) {
    constexpr double flattening = 1.0 / 298.257223563;
    constexpr double e2 = flattening * (2.0 - flattening);
    const double sine = std::sin(latitude * radians);
    const double n = 6378137.0 / std::sqrt(1.0 - e2 * sine * sine);
    const double across = n * std::cos(latitude * radians);
    return {across * std::cos(longitude * radians), across * std::sin(longitude * radians), n * (1.0 - e2) * sine};
}

} // namespace

geo::terrain::ElevationTile ground_around(geo::Coordinate centre, geo::Degrees half_side, geo::Degrees step,
                                          const std::function<double(double distance, double azimuth)>& height) {
    const auto posts = static_cast<std::size_t>(std::lround(2.0 * half_side.value / step.value)) + 1;
    const geo::terrain::GridFrame frame{
        centre.longitude - half_side, centre.latitude + half_side, step, step, posts, posts};
    const double sine_latitude = std::sin(centre.latitude.value * radians);
    const double cosine_latitude = std::cos(centre.latitude.value * radians);
    const double sine_longitude = std::sin(centre.longitude.value * radians);
    const double cosine_longitude = std::cos(centre.longitude.value * radians);
    const Vector origin = on_ellipsoid(centre.latitude.value, centre.longitude.value);
    std::vector<float> heights;
    heights.reserve(posts * posts);
    for (std::size_t row = 0; row < posts; ++row)
        for (std::size_t column = 0; column < posts; ++column) {
            const auto place = frame.place(static_cast<double>(row), static_cast<double>(column));
            const Vector post = on_ellipsoid(place.latitude.value, place.longitude.value);
            const double x = post[0] - origin[0];
            const double y = post[1] - origin[1];
            const double z = post[2] - origin[2];
            const double east = -sine_longitude * x + cosine_longitude * y;
            const double north = -sine_latitude * (cosine_longitude * x + sine_longitude * y) + cosine_latitude * z;
            // Arc over the chord: within centimetres of the geodesic at these distances.
            const double chord = std::sqrt(x * x + y * y + z * z);
            const double distance = 2.0 * 6371000.0 * std::asin(chord / (2.0 * 6371000.0));
            heights.push_back(static_cast<float>(height(distance, std::atan2(east, north) / radians)));
        }
    return {"made for a test", frame, std::move(heights)};
}

} // namespace support
