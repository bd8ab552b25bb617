#include "geo/terrain/tiff_file.hpp"

#include "geo/input_error.hpp"

#include <array>
#include <cstdarg>
#include <cstdio>

namespace geo::terrain {

namespace {

constexpr tmsize_t most_memory_at_once = tmsize_t{1} << 30;

/// Returning 1 tells libtiff that all is said: nothing reaches standard error.
int keep_complaint(TIFF*, void* complaint, const char*, const char* format, va_list values) {
    std::array<char, 300> text{};
    std::vsnprintf(text.data(), text.size(), format, values);
    *static_cast<std::string*>(complaint) = text.data();
    return 1;
}

int pass_over_warning(TIFF*, void*, const char*, const char*, va_list) {
    return 1;
}

// libtiff does not change the names, but takes them as char*.
const std::array<TIFFFieldInfo, 6>& geo_fields() {
    static std::array<std::array<char, 20>, 6> names{{{"ModelPixelScale"},
                                                      {"ModelTiepoint"},
                                                      {"ModelTransformation"},
                                                      {"GeoKeyDirectory"},
                                                      {"GDAL_METADATA"},
                                                      {"GDAL_NODATA"}}};
    const auto any = TIFF_VARIABLE;
    static const std::array<TIFFFieldInfo, 6> fields{{
        {model_pixel_scale, any, any, TIFF_DOUBLE, FIELD_CUSTOM, 1, 1, names[0].data()},
        {model_tiepoint, any, any, TIFF_DOUBLE, FIELD_CUSTOM, 1, 1, names[1].data()},
        {model_transformation, any, any, TIFF_DOUBLE, FIELD_CUSTOM, 1, 1, names[2].data()},
        {geo_key_directory, any, any, TIFF_SHORT, FIELD_CUSTOM, 1, 1, names[3].data()},
        {gdal_metadata, any, any, TIFF_ASCII, FIELD_CUSTOM, 1, 0, names[4].data()},
        {gdal_nodata, any, any, TIFF_ASCII, FIELD_CUSTOM, 1, 0, names[5].data()},
    }};
    return fields;
}

TIFFExtendProc next_extender = nullptr;

void add_geo_fields(TIFF* tiff) {
    TIFFMergeFieldInfo(tiff, geo_fields().data(), static_cast<std::uint32_t>(geo_fields().size()));
    if (next_extender != nullptr)
        next_extender(tiff);
}

/// Once for the program: libtiff asks its extender before it reads a directory, and forgets fields merged earlier.
void register_geo_fields() {
    static const bool done = [] {
        next_extender = TIFFSetTagExtender(add_geo_fields);
        return true;
    }();
    (void)done;
}

} // namespace

TiffFile::TiffFile(const std::filesystem::path& file)
    : name_(file.string()), complaint_(std::make_unique<std::string>()) {
    const std::unique_ptr<TIFFOpenOptions, void (*)(TIFFOpenOptions*)> options(TIFFOpenOptionsAlloc(),
                                                                               TIFFOpenOptionsFree);
    TIFFOpenOptionsSetErrorHandlerExtR(options.get(), keep_complaint, complaint_.get());
    TIFFOpenOptionsSetWarningHandlerExtR(options.get(), pass_over_warning, nullptr);
    TIFFOpenOptionsSetMaxSingleMemAlloc(options.get(), most_memory_at_once);
    register_geo_fields();
    handle_.reset(TIFFOpenExt(file.c_str(), "rm", options.get()));
    if (!handle_)
        refuse_broken("can't be read as TIFF");
}

std::string TiffFile::text(GeoTag which) const {
    const char* words = nullptr;
    return TIFFGetField(handle(), which, &words) == 1 && words != nullptr ? words : "";
}

void TiffFile::refuse(std::string field, std::string value, std::string problem, std::string mend) const {
    throw InputError({{name_, std::move(field), std::move(value), std::move(problem), std::move(mend)}});
}

void TiffFile::refuse_broken(const std::string& what) const {
    refuse("", "", what + (complaint_->empty() ? "" : " (" + *complaint_ + ")"), "get the file again");
}

} // namespace geo::terrain
