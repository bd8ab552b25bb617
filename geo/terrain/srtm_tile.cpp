#include "geo/terrain/srtm_tile.hpp"

#include "geo/input_error.hpp"
#include "geo/mapped_file.hpp"

#include <minizip/unzip.h>

#include <algorithm>
#include <array>

namespace geo::terrain {

namespace {

constexpr std::array<std::size_t, 2> sides{1201, 3601};

std::size_t bytes_of(std::size_t side) {
    return 2 * side * side;
}

[[noreturn]] void refuse(const std::filesystem::path& file, std::string value, std::string problem, std::string mend) {
    throw InputError({{file.string(), "", std::move(value), std::move(problem), std::move(mend)}});
}

std::string lower(std::string_view text) {
    std::string small(text);
    for (char& letter : small)
        if (letter >= 'A' && letter <= 'Z')
            letter = static_cast<char>(letter - 'A' + 'a');
    return small;
}

/// Digits only; nothing otherwise.
std::optional<int> number(std::string_view digits) {
    int value = 0;
    for (const char digit : digits) {
        if (digit < '0' || digit > '9')
            return std::nullopt;
        value = 10 * value + (digit - '0');
    }
    return value;
}

std::size_t side_of(const std::filesystem::path& file, std::size_t bytes, std::string_view what) {
    for (const std::size_t side : sides)
        if (bytes == bytes_of(side))
            return side;
    refuse(file, std::to_string(bytes) + " bytes", "is not the size of an SRTM tile" + std::string(what),
           "get the file again; a 3 arc second tile has 2884802 bytes, a 1 arc second tile 25934402");
}

GridFrame frame_of(Coordinate corner, std::size_t side) {
    const Degrees step{1.0 / static_cast<double>(side - 1)};
    return {corner.longitude, corner.latitude + Degrees{1.0}, step, step, side, side};
}

/// An archive opened for reading, closed whatever happens.
class Archive {
public:
    explicit Archive(const std::filesystem::path& file) : file_(file), archive_(unzOpen64(file.c_str())) {
        if (archive_ == nullptr)
            broken("is no zip archive, or is cut short");
    }
    Archive(const Archive&) = delete;
    Archive(Archive&&) = delete;
    Archive& operator=(const Archive&) = delete;
    Archive& operator=(Archive&&) = delete;
    ~Archive() { unzClose(archive_); }

    /// The one member that is an SRTM tile.
    std::string find_tile() {
        std::optional<std::string> found;
        unz_file_pos where{};
        int state = unzGoToFirstFile(archive_);
        for (; state == UNZ_OK; state = unzGoToNextFile(archive_)) {
            std::array<char, 1024> name{};
            unz_file_info64 info{};
            if (unzGetCurrentFileInfo64(archive_, &info, name.data(), name.size() - 1, nullptr, 0, nullptr, 0) !=
                UNZ_OK)
                broken("has a broken table of contents");
            const std::string member = std::filesystem::path(name.data()).filename().string();
            // Archives packed on some systems carry a shadow of each file under a name with a dot before it.
            if (!lower(member).ends_with(".hgt") || member.starts_with('.'))
                continue;
            if (found)
                refuse(file_, "", "holds more than one .hgt", "unpack it and name the tiles one by one");
            found = member;
            unzGetFilePos(archive_, &where);
        }
        if (state != UNZ_END_OF_LIST_OF_FILE)
            broken("has a broken table of contents");
        if (!found)
            refuse(file_, "", "holds no .hgt", "name an archive with one SRTM tile in it");
        unzGoToFilePos(archive_, &where);
        return *found;
    }

    std::vector<std::byte> unpack() {
        unz_file_info64 info{};
        if (unzGetCurrentFileInfo64(archive_, &info, nullptr, 0, nullptr, 0, nullptr, 0) != UNZ_OK)
            broken("has a broken table of contents");
        if ((info.flag & 1U) != 0)
            refuse(file_, "", "is locked with a password", "unpack it and name the .hgt inside");
        std::vector<std::byte> bytes(bytes_of(side_of(file_, info.uncompressed_size, " inside")));
        if (unzOpenCurrentFile(archive_) != UNZ_OK)
            broken("can't be unpacked");
        std::size_t filled = 0;
        while (filled < bytes.size()) {
            const int got =
                unzReadCurrentFile(archive_, bytes.data() + filled,
                                   static_cast<unsigned>(std::min<std::size_t>(bytes.size() - filled, 1U << 20U)));
            if (got <= 0)
                broken("can't be unpacked");
            filled += static_cast<std::size_t>(got);
        }
        if (unzCloseCurrentFile(archive_) != UNZ_OK)
            broken("fails its checksum");
        return bytes;
    }

private:
    [[noreturn]] void broken(std::string problem) {
        refuse(file_, "", std::move(problem), "get the file again, or unpack it and name the .hgt inside");
    }

    const std::filesystem::path& file_;
    unzFile archive_;
};

Coordinate corner_or_refuse(const std::filesystem::path& file, const std::string& name) {
    const auto corner = corner_from_name(name);
    if (!corner)
        refuse(file, name, "does not say where the tile lies",
               "name it after its south-west corner, as N47E009.hgt or S09W036.hgt");
    return *corner;
}

ElevationTile read_zipped(const std::filesystem::path& file) {
    Archive archive(file);
    const std::string member = archive.find_tile();
    const std::string outer = file.filename().string();
    const auto inside = corner_from_name(member);
    const auto outside = corner_from_name(outer);
    if (inside && outside && *inside != *outside)
        refuse(file, member, "inside lies elsewhere than the archive's name says",
               "rename the archive after the tile in it");
    const Coordinate corner = inside ? *inside : corner_or_refuse(file, outer);
    const auto bytes = std::make_shared<const std::vector<std::byte>>(archive.unpack());
    const std::size_t side = side_of(file, bytes->size(), " inside");
    return {file.string(), frame_of(corner, side), bytes, *bytes};
}

} // namespace

std::optional<Coordinate> corner_from_name(std::string_view name) {
    const std::string text = lower(name);
    if (text.size() < 7 || (text.size() > 7 && text[7] != '.') || (text[0] != 'n' && text[0] != 's') ||
        (text[3] != 'e' && text[3] != 'w'))
        return std::nullopt;
    const auto north = number(std::string_view(text).substr(1, 2));
    const auto east = number(std::string_view(text).substr(4, 3));
    if (!north || !east)
        return std::nullopt;
    const int latitude = text[0] == 's' ? -*north : *north;
    const int longitude = text[3] == 'w' ? -*east : *east;
    if (latitude < -90 || latitude > 89 || longitude < -180 || longitude > 179)
        return std::nullopt;
    return Coordinate{{static_cast<double>(latitude)}, {static_cast<double>(longitude)}};
}

bool is_srtm_name(const std::filesystem::path& file) {
    const std::string name = lower(file.filename().string());
    return name.ends_with(".hgt") || name.ends_with(".hgt.zip");
}

ElevationTile read_srtm_tile(const std::filesystem::path& file) {
    const std::string name = file.filename().string();
    if (lower(name).ends_with(".zip"))
        return read_zipped(file);
    const Coordinate corner = corner_or_refuse(file, name);
    const MappedFile mapped = map_file(file);
    if (!mapped.reason.empty())
        refuse(file, "", mapped.reason, "get the file again");
    const std::size_t side = side_of(file, mapped.bytes.size(), "");
    return {file.string(), frame_of(corner, side), mapped.owner, mapped.bytes};
}

} // namespace geo::terrain
