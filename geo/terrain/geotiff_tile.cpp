#include "geo/terrain/geotiff_tile.hpp"

#include "geo/terrain/geotiff_frame.hpp"
#include "geo/terrain/tiff_file.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <string_view>

namespace geo::terrain {

namespace {

/// How one sample is stored.
enum class SampleKind { int16, uint16, int32, uint32, float32, float64 };

std::string words_of(std::uint16_t bits, std::uint16_t format) {
    constexpr std::array<std::string_view, 7> formats{"",        "unsigned integers", "integers",      "floats",
                                                      "untyped", "complex integers",  "complex floats"};
    return std::to_string(bits) + "-bit " + std::string(format < formats.size() ? formats[format] : "samples");
}

SampleKind sample_kind(const TiffFile& tiff) {
    const auto bits = tiff.tag<std::uint16_t>(TIFFTAG_BITSPERSAMPLE).value_or(0);
    const auto format = tiff.tag<std::uint16_t>(TIFFTAG_SAMPLEFORMAT).value_or(SAMPLEFORMAT_UINT);
    const auto bands = tiff.tag<std::uint16_t>(TIFFTAG_SAMPLESPERPIXEL).value_or(1);
    if (bands != 1)
        tiff.refuse("SamplesPerPixel", std::to_string(bands), "is more than one band",
                    "give the elevations alone, not a picture");
    // What is stored is then no height, and to take it for one would be wrong without a sign of it.
    const std::string metadata = tiff.text(gdal_metadata);
    if (metadata.find("role=\"scale\"") != std::string::npos || metadata.find("role=\"offset\"") != std::string::npos)
        tiff.refuse("GDAL_METADATA", "", "scales or shifts the stored heights",
                    "write the heights themselves, in metres");
    if (format == SAMPLEFORMAT_INT && bits == 16)
        return SampleKind::int16;
    if (format == SAMPLEFORMAT_UINT && bits == 16)
        return SampleKind::uint16;
    if (format == SAMPLEFORMAT_INT && bits == 32)
        return SampleKind::int32;
    if (format == SAMPLEFORMAT_UINT && bits == 32)
        return SampleKind::uint32;
    if (format == SAMPLEFORMAT_IEEEFP && bits == 32)
        return SampleKind::float32;
    if (format == SAMPLEFORMAT_IEEEFP && bits == 64)
        return SampleKind::float64;
    tiff.refuse("SampleFormat", words_of(bits, format), "is no way elevations are stored",
                "give 16- or 32-bit integers or 32- or 64-bit floats");
}

std::size_t bytes_of(SampleKind kind) {
    if (kind == SampleKind::float64)
        return 8;
    return kind == SampleKind::int16 || kind == SampleKind::uint16 ? 2 : 4;
}

/// The value that marks unknown ground.
std::optional<double> no_data(const TiffFile& tiff) {
    std::string text = tiff.text(gdal_nodata);
    const auto first = text.find_first_not_of(" \t\n");
    if (first == std::string::npos)
        return std::nullopt;
    text.erase(0, first + (text[first] == '+' ? 1 : 0));
    text.erase(text.find_last_not_of(" \t\n") + 1);
    double value = 0.0;
    const char* const end = text.data() + text.size();
    const auto [stopped, fault] = std::from_chars(text.data(), end, value);
    if (fault == std::errc::result_out_of_range) // no float holds it, so no post does
        return std::nullopt;
    if (fault != std::errc{} || stopped != end)
        tiff.refuse("GDAL_NODATA", text, "is not a number",
                    "write the value that marks unknown ground, or leave it out");
    return value;
}

/// A block of the image as it is stored, and where it goes.
struct Block {
    const std::byte* bytes;
    std::size_t width; ///< samples in one of its rows, padding included
    std::size_t row, column, rows, columns;
};

template <class Sample>
void copy_samples(const Block& block, std::optional<double> unknown, std::size_t image_columns, float* heights) {
    for (std::size_t row = 0; row < block.rows; ++row) {
        float* to = heights + (block.row + row) * image_columns + block.column;
        const std::byte* from = block.bytes + row * block.width * sizeof(Sample);
        for (std::size_t column = 0; column < block.columns; ++column) {
            Sample sample{};
            std::memcpy(&sample, from + column * sizeof(Sample), sizeof sample);
            // The mark is written in decimals: compared as the sample's own type.
            const bool known = !unknown || sample != static_cast<Sample>(*unknown);
            to[column] = known ? static_cast<float>(sample) : unknown_height;
        }
    }
}

/// Whether the mark can be a sample of this type at all; otherwise the cast above would be undefined.
template <class Sample>
bool fits(double value) {
    return std::isnan(value) ? std::is_floating_point_v<Sample>
                             : value >= static_cast<double>(std::numeric_limits<Sample>::lowest()) &&
                                   value <= static_cast<double>(std::numeric_limits<Sample>::max());
}

template <class Sample>
void copy_if_fitting(const Block& block, std::optional<double> unknown, std::size_t image_columns, float* heights) {
    copy_samples<Sample>(block, unknown && fits<Sample>(*unknown) ? unknown : std::nullopt, image_columns, heights);
}

void copy_block(SampleKind kind, const Block& block, std::optional<double> unknown, std::size_t columns,
                float* heights) {
    switch (kind) {
    case SampleKind::int16:
        return copy_if_fitting<std::int16_t>(block, unknown, columns, heights);
    case SampleKind::uint16:
        return copy_if_fitting<std::uint16_t>(block, unknown, columns, heights);
    case SampleKind::int32:
        return copy_if_fitting<std::int32_t>(block, unknown, columns, heights);
    case SampleKind::uint32:
        return copy_if_fitting<std::uint32_t>(block, unknown, columns, heights);
    case SampleKind::float32:
        return copy_if_fitting<float>(block, unknown, columns, heights);
    case SampleKind::float64:
        return copy_if_fitting<double>(block, unknown, columns, heights);
    }
}

/// Tiles and strips are read the same way: a strip is a tile as wide as the image.
struct Blocks {
    bool tiled = false;
    std::size_t width = 0;
    std::size_t height = 0;
};

Blocks blocks_of(const TiffFile& tiff, const GridFrame& frame) {
    if (TIFFIsTiled(tiff.handle()) != 0)
        return {true, tiff.tag<std::uint32_t>(TIFFTAG_TILEWIDTH).value_or(0),
                tiff.tag<std::uint32_t>(TIFFTAG_TILELENGTH).value_or(0)};
    const auto rows = tiff.tag<std::uint32_t>(TIFFTAG_ROWSPERSTRIP).value_or(0);
    return {false, frame.columns, std::min<std::size_t>(rows, frame.rows)};
}

std::vector<float> read_heights(const TiffFile& tiff, const GridFrame& frame) {
    const SampleKind kind = sample_kind(tiff);
    const auto compression = tiff.tag<std::uint16_t>(TIFFTAG_COMPRESSION).value_or(COMPRESSION_NONE);
    if (TIFFIsCODECConfigured(compression) == 0)
        tiff.refuse("Compression", std::to_string(compression), "can't be unpacked", "pack it with deflate or LZW");
    const Blocks blocks = blocks_of(tiff, frame);
    if (blocks.width == 0 || blocks.height == 0)
        tiff.refuse_broken("has blocks of no size");

    const auto unknown = no_data(tiff);
    std::vector<float> heights(frame.columns * frame.rows, unknown_height);
    const tmsize_t size = blocks.tiled ? TIFFTileSize(tiff.handle()) : TIFFStripSize(tiff.handle());
    if (size < static_cast<tmsize_t>(blocks.width * blocks.height * bytes_of(kind)))
        tiff.refuse_broken("has blocks of a size that can't be");
    std::vector<std::byte> bytes(static_cast<std::size_t>(size));
    std::uint32_t index = 0;
    for (std::size_t row = 0; row < frame.rows; row += blocks.height)
        for (std::size_t column = 0; column < frame.columns; column += blocks.width, ++index) {
            if (TIFFGetStrileByteCount(tiff.handle(), index) == 0)
                continue; // left out: nothing is known there
            const std::size_t rows = std::min(blocks.height, frame.rows - row);
            const std::size_t columns = std::min(blocks.width, frame.columns - column);
            const tmsize_t got = blocks.tiled ? TIFFReadEncodedTile(tiff.handle(), index, bytes.data(), size)
                                              : TIFFReadEncodedStrip(tiff.handle(), index, bytes.data(), size);
            if (got < static_cast<tmsize_t>((blocks.tiled ? blocks.height : rows) * blocks.width * bytes_of(kind)))
                tiff.refuse_broken("is cut short or damaged");
            copy_block(kind, {bytes.data(), blocks.width, row, column, rows, columns}, unknown, frame.columns,
                       heights.data());
        }
    return heights;
}

} // namespace

ElevationTile read_geotiff_tile(const std::filesystem::path& file) {
    const TiffFile tiff(file);
    const GridFrame frame = geotiff_frame(tiff);
    return {tiff.name(), frame, read_heights(tiff, frame)};
}

} // namespace geo::terrain
