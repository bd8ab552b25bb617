#include "routing/roads/region_file.hpp"

#include "geo/byte_stream.hpp"
#include "geo/mapped_file.hpp"
#include "geo/replace_file.hpp"

#include <algorithm>
#include <set>
#include <utility>

namespace routing::roads {
namespace {

constexpr std::uint64_t mark = 0x4e4f494745525744; // "DWREGION"
constexpr std::uint32_t format_version = 1;
constexpr std::uint32_t byte_order = 0x01020304;
constexpr std::uint64_t alignment = 4096;
constexpr std::size_t fixed_size = 32; ///< mark, version, byte order, length of the header, length of the file

std::uint64_t aligned(std::uint64_t offset) {
    return (offset + alignment - 1) / alignment * alignment;
}

struct Entry {
    std::string name;
    std::uint64_t offset = 0, length = 0, checksum = 0;
};

std::vector<std::byte> header_bytes(const RegionKey& key, const std::vector<Entry>& entries, std::uint64_t header_size,
                                    std::uint64_t file_size) {
    geo::ByteWriter writer;
    writer.put(mark);
    writer.put(format_version);
    writer.put(byte_order);
    writer.put(header_size);
    writer.put(file_size);
    writer.put(key.extract.size);
    writer.put(key.extract.changed);
    writer.put(key.extract.checksum);
    writer.put(std::uint64_t{key.rules_version});
    writer.put_all(key.vehicle);
    writer.put(std::uint64_t{entries.size()});
    for (const Entry& entry : entries) {
        writer.put_text(entry.name);
        writer.put(entry.offset);
        writer.put(entry.length);
        writer.put(entry.checksum);
    }
    return writer.take();
}

OpenedRegion refused(std::string reason) {
    return {std::nullopt, std::move(reason)};
}

/// `all` is the whole file, already known to be as long as the header says.
OpenedRegion read_sections(std::shared_ptr<const void> mapping, std::span<const std::byte> all,
                           std::span<const std::byte> header, SectionCheck check) {
    geo::ByteReader reader(header.subspan(fixed_size));
    RegionKey key;
    key.extract.size = reader.get<std::uint64_t>();
    key.extract.changed = reader.get<std::int64_t>();
    key.extract.checksum = reader.get<std::uint64_t>();
    key.rules_version = static_cast<std::uint32_t>(reader.get<std::uint64_t>());
    key.vehicle = reader.all<std::byte>();
    std::vector<RegionFile::Section> sections;
    std::set<std::string> names;
    const auto count = reader.get<std::uint64_t>();
    for (std::uint64_t n = 0; n < count && !reader.failed(); ++n) {
        Entry entry;
        entry.name = reader.text();
        entry.offset = reader.get<std::uint64_t>();
        entry.length = reader.get<std::uint64_t>();
        entry.checksum = reader.get<std::uint64_t>();
        if (reader.failed() || entry.offset % alignment != 0 || entry.offset > all.size() ||
            entry.length > all.size() - entry.offset || !names.insert(entry.name).second)
            return refused("has a table of sections that can't be");
        const auto bytes = all.subspan(static_cast<std::size_t>(entry.offset), static_cast<std::size_t>(entry.length));
        if (check == SectionCheck::now && checksum(bytes) != entry.checksum)
            return refused("section " + entry.name + " fails its checksum");
        sections.push_back({entry.name, bytes, entry.checksum});
    }
    if (!reader.ended_well())
        return refused("has a table of sections that can't be");
    return {RegionFile(std::move(mapping), std::move(key), std::move(sections)), ""};
}

} // namespace

RegionFile::RegionFile(std::shared_ptr<const void> mapping, RegionKey key, std::vector<Section> sections)
    : mapping_(std::move(mapping)), key_(std::move(key)), sections_(std::move(sections)) {}

std::span<const std::byte> RegionFile::section(const std::string& name) const {
    const auto found =
        std::find_if(sections_.begin(), sections_.end(), [&](const Section& section) { return section.name == name; });
    return found == sections_.end() || checksum(found->bytes) != found->checksum ? std::span<const std::byte>{}
                                                                                 : found->bytes;
}

OpenedRegion open_region_file(const std::filesystem::path& file, SectionCheck check) {
    geo::MappedFile mapped = geo::map_file(file);
    if (!mapped.reason.empty())
        return refused(std::move(mapped.reason));
    const std::span<const std::byte> all = mapped.bytes;
    if (all.size() < fixed_size)
        return refused("is cut short");
    geo::ByteReader reader(all.first(fixed_size));
    if (reader.get<std::uint64_t>() != mark)
        return refused("is no prepared region file");
    if (reader.get<std::uint32_t>() != format_version)
        return refused("is of another format version");
    if (reader.get<std::uint32_t>() != byte_order)
        return refused("is of another byte order");
    const auto header_size = reader.get<std::uint64_t>();
    const auto file_size = reader.get<std::uint64_t>();
    if (file_size > all.size() || header_size > all.size())
        return refused("is cut short");
    if (file_size < all.size())
        return refused("is longer than it says");
    if (header_size < fixed_size + sizeof(std::uint64_t))
        return refused("header fails its checksum");
    const auto header = all.first(static_cast<std::size_t>(header_size) - sizeof(std::uint64_t));
    geo::ByteReader sum(all.subspan(header.size(), sizeof(std::uint64_t)));
    if (checksum(header) != sum.get<std::uint64_t>())
        return refused("header fails its checksum");
    return read_sections(std::move(mapped.owner), all, header, check);
}

std::optional<std::string> write_region_file(const std::filesystem::path& file, const RegionKey& key,
                                             const std::vector<RegionSection>& sections) {
    std::vector<Entry> entries;
    for (const RegionSection& section : sections)
        entries.push_back({section.name, 0, section.bytes.size(), checksum(section.bytes)});
    const std::uint64_t header_size = header_bytes(key, entries, 0, 0).size() + sizeof(std::uint64_t);
    std::uint64_t end = header_size;
    for (Entry& entry : entries) {
        entry.offset = aligned(end);
        end = entry.offset + entry.length;
    }
    auto header = header_bytes(key, entries, header_size, end);
    geo::ByteWriter sum;
    sum.put(checksum(header));
    const auto sum_bytes = sum.take();
    header.insert(header.end(), sum_bytes.begin(), sum_bytes.end());

    std::vector<geo::FilePiece> pieces;
    pieces.reserve(sections.size() + 1);
    pieces.push_back({0, header});
    for (std::size_t n = 0; n < sections.size(); ++n)
        pieces.push_back({entries[n].offset, sections[n].bytes});
    return geo::replace_file(file, pieces);
}

} // namespace routing::roads
