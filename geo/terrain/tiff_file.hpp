#pragma once
/// A TIFF opened for reading: numbers and texts of its tags, errors as InputError, nothing printed.
///
/// Only geotiff_*.cpp include this; it holds libtiff's header.

#include <tiffio.h>

#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace geo::terrain {

/// Tags of GeoTIFF and of GDAL, which libtiff does not know by itself.
enum GeoTag : std::uint32_t {
    model_pixel_scale = 33550,
    model_tiepoint = 33922,
    model_transformation = 34264,
    geo_key_directory = 34735,
    gdal_metadata = 42112,
    gdal_nodata = 42113,
};

class TiffFile {
public:
    /// Throws InputError when libtiff can't make sense of it.
    explicit TiffFile(const std::filesystem::path& file);

    TIFF* handle() const { return handle_.get(); }
    const std::string& name() const { return name_; }

    template <class Value>
    std::optional<Value> tag(std::uint32_t which) const {
        Value value{};
        return TIFFGetFieldDefaulted(handle(), which, &value) == 1 ? std::optional(value) : std::nullopt;
    }
    /// Empty when the tag is not there.
    std::vector<double> doubles(GeoTag which) const { return list<double>(which); }
    std::vector<std::uint16_t> shorts(GeoTag which) const { return list<std::uint16_t>(which); }
    std::string text(GeoTag which) const;

    [[noreturn]] void refuse(std::string field, std::string value, std::string problem, std::string mend) const;
    /// What libtiff last complained of is the problem.
    [[noreturn]] void refuse_broken(const std::string& what) const;

private:
    template <class Value>
    std::vector<Value> list(GeoTag which) const {
        std::uint16_t count = 0;
        const Value* values = nullptr;
        if (TIFFGetField(handle(), which, &count, &values) != 1 || values == nullptr)
            return {};
        return {values, values + count};
    }

    struct Close {
        void operator()(TIFF* handle) const { TIFFClose(handle); }
    };
    std::string name_;
    std::unique_ptr<std::string> complaint_; ///< stays where it is: libtiff's handler points at it
    std::unique_ptr<TIFF, Close> handle_;
};

} // namespace geo::terrain
