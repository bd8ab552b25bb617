#include "geo/terrain/horizon_cache.hpp"

#include "geo/byte_stream.hpp"
#include "geo/mapped_file.hpp"
#include "geo/replace_file.hpp"

#include <array>
#include <charconv>
#include <stdexcept>

namespace geo::terrain {

namespace {

constexpr std::uint64_t mark = 0x4e5a49524f485744; // "DWHORIZN"
constexpr std::uint32_t format_version = 1;

struct StoredPoint {
    double angle, distance, known_to;
};

/// What a horizon depends on besides the tiles' content.
std::vector<std::byte> key_bytes(Coordinate place, const HorizonSettings& settings, const SheetSettings& sheet) {
    ByteWriter writer;
    writer.put(mark);
    writer.put(format_version);
    writer.put(horizon_method_version);
    writer.put(place.latitude.value);
    writer.put(place.longitude.value);
    writer.put(settings.eye_height.value);
    writer.put(settings.range.value);
    writer.put(settings.refraction);
    writer.put(sheet.largest_hole_filled.value);
    return writer.take();
}

std::string fixed(double value) {
    std::array<char, 40> text{};
    const char* const end =
        std::to_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed, 5).ptr;
    return {text.data(), static_cast<std::size_t>(end - text.data())};
}

std::string hexadecimal(std::uint64_t value) {
    std::array<char, 20> text{};
    const char* const end = std::to_chars(text.data(), text.data() + text.size(), value, 16).ptr;
    return {text.data(), static_cast<std::size_t>(end - text.data())};
}

} // namespace

HorizonCache::HorizonCache(std::vector<std::filesystem::path> tiles, std::optional<std::filesystem::path> folder,
                           HorizonSettings settings, SheetSettings sheet_settings)
    : folder_(std::move(folder)), settings_(settings), sheet_settings_(sheet_settings) {
    for (auto& file : tiles)
        tiles_.push_back({std::move(file), std::nullopt});
}

std::optional<HorizonProfile> HorizonCache::at(Coordinate place) {
    if (!is_valid(place))
        throw std::domain_error("a horizon needs a latitude in [-90, 90] and a longitude in [-180, 180]");
    const auto file = file_for(place);
    if (file)
        if (auto found = kept(*file, place))
            return *std::move(found);
    auto horizon = find_horizon(sheet(), place, settings_);
    if (file)
        keep(*file, place, horizon);
    return horizon;
}

const ElevationSheet& HorizonCache::sheet() {
    if (!sheet_) {
        std::vector<std::filesystem::path> files;
        for (Tile& tile : tiles_) {
            tile.seen = look_at(tile.file); // before it is read: a change meanwhile shows the next time
            files.push_back(tile.file);
        }
        sheet_ = read_elevation_sheet(files, sheet_settings_);
    }
    return *sheet_;
}

std::optional<std::filesystem::path> HorizonCache::file_for(Coordinate place) const {
    if (!folder_)
        return std::nullopt;
    // The tiles' names are in the name, their state is not: a horizon from a changed tile is replaced, not left lying.
    ByteWriter writer;
    for (const std::byte byte : key_bytes(place, settings_, sheet_settings_))
        writer.put(byte);
    for (const Tile& tile : tiles_)
        writer.put_text(tile.file.string());
    return *folder_ / ("horizon_" + fixed(place.latitude.value) + "_" + fixed(place.longitude.value) + "_" +
                       hexadecimal(checksum(writer.take())) + ".prepared");
}

bool HorizonCache::Tile::is_same(const FileIdentity& then) {
    if (!seen)
        seen = look_at(file);
    if (!seen || seen->size != then.size)
        return false;
    if (seen->changed == then.changed)
        return true;
    if (seen->checksum == 0)
        seen->checksum = checksum_of(file).value_or(0);
    return seen->checksum == then.checksum;
}

std::optional<std::optional<HorizonProfile>> HorizonCache::kept(const std::filesystem::path& file, Coordinate place) {
    const MappedFile mapped = map_file(file);
    const auto key = key_bytes(place, settings_, sheet_settings_);
    constexpr std::size_t sum_size = sizeof(std::uint64_t);
    if (mapped.bytes.size() < key.size() + sum_size)
        return std::nullopt;
    const auto content = mapped.bytes.first(mapped.bytes.size() - sum_size);
    ByteReader sum(mapped.bytes.subspan(content.size()));
    if (sum.get<std::uint64_t>() != checksum(content) || !std::equal(key.begin(), key.end(), content.begin()))
        return std::nullopt;
    ByteReader reader(content.subspan(key.size()));
    if (reader.get<std::uint64_t>() != tiles_.size())
        return std::nullopt;
    for (Tile& tile : tiles_) {
        const std::string name = reader.text();
        FileIdentity then;
        then.size = reader.get<std::uint64_t>();
        then.changed = reader.get<std::int64_t>();
        then.checksum = reader.get<std::uint64_t>();
        if (reader.failed() || name != tile.file.string() || !tile.is_same(then))
            return std::nullopt;
    }
    const Metres eye_elevation{reader.get<double>()};
    const auto stored = reader.all<StoredPoint>();
    if (!reader.ended_well() || (!stored.empty() && stored.size() != HorizonProfile::azimuths))
        return std::nullopt;
    if (stored.empty())
        return std::optional<HorizonProfile>{};
    std::vector<HorizonPoint> points;
    points.reserve(stored.size());
    for (const StoredPoint& point : stored)
        points.push_back({{point.angle}, {point.distance}, {point.known_to}});
    return HorizonProfile(std::move(points), eye_elevation, settings_);
}

void HorizonCache::keep(const std::filesystem::path& file, Coordinate place,
                        const std::optional<HorizonProfile>& horizon) {
    ByteWriter writer;
    for (const std::byte byte : key_bytes(place, settings_, sheet_settings_))
        writer.put(byte);
    writer.put(std::uint64_t{tiles_.size()});
    for (Tile& tile : tiles_) {
        if (tile.seen && tile.seen->checksum == 0)
            tile.seen->checksum = checksum_of(tile.file).value_or(0);
        const auto now = look_at(tile.file);
        if (!tile.seen || tile.seen->checksum == 0 || !now || now->changed != tile.seen->changed)
            return; // changed or gone since it was read
        writer.put_text(tile.file.string());
        writer.put(tile.seen->size);
        writer.put(tile.seen->changed);
        writer.put(tile.seen->checksum);
    }
    writer.put(horizon ? horizon->eye_elevation().value : 0.0);
    std::vector<StoredPoint> stored;
    if (horizon)
        for (const HorizonPoint& point : horizon->points())
            stored.push_back({point.angle.value, point.distance.value, point.known_to.value});
    writer.put_all(stored);
    const auto content = writer.take();
    ByteWriter sum;
    sum.put(checksum(content));
    const auto sum_bytes = sum.take();
    std::error_code fault;
    std::filesystem::create_directories(*folder_, fault);
    if (const auto why = replace_file(file, {{0, content}, {content.size(), sum_bytes}}))
        trouble_ = file.string() + " can't be written: " + *why;
}

} // namespace geo::terrain
