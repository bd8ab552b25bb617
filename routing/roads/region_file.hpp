#pragma once
/// The prepared region file: named sections of bytes beside an extract, bound to it, checked before anything is used.
///
///     write_region_file("map.osm.pbf.1a2b3c4d.prepared", key, {{"network", bytes}});
///     const OpenedRegion opened = open_region_file("map.osm.pbf.1a2b3c4d.prepared");
///     if (opened.file) use(opened.file->section("network")); else say(opened.reason);
///
/// Layout, little-endian: mark, format version, byte-order mark, length of the header, length of the file, key, table
/// of sections (name, offset, length, checksum), checksum of the header; then each section from the next multiple of
/// 4096 on. Checksums are CRC-32 (zlib), which finds every flip of up to 32 bits in a row; they guard against
/// accidents, not forgery: what a section says must be range-checked by who reads it.

#include "geo/file_identity.hpp"

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace routing::roads {

/// Counts up whenever a rule table or the layout of a section changes, so that files made before are made again.
constexpr std::uint32_t road_rules_version = 7;

using geo::checksum;
using geo::checksum_of;
using geo::FileIdentity;
using geo::look_at;

/// What the sections were made from.
struct RegionKey {
    FileIdentity extract;
    std::uint32_t rules_version = road_rules_version;
    std::vector<std::byte> vehicle; ///< as put down by vehicle_bytes
    friend bool operator==(const RegionKey&, const RegionKey&) = default;
};

struct RegionSection {
    std::string name;
    std::vector<std::byte> bytes;
};

/// A valid file, mapped into memory; spans live as long as it does.
class RegionFile {
public:
    struct Section {
        std::string name;
        std::span<const std::byte> bytes;
        std::uint64_t checksum = 0; ///< what the header says it is
    };
    RegionFile(std::shared_ptr<const void> mapping, RegionKey key, std::vector<Section> sections);
    const RegionKey& key() const { return key_; }
    const std::vector<Section>& sections() const { return sections_; }
    /// Empty when there is none of that name, or when it fails its checksum: read each time, so ask once.
    std::span<const std::byte> section(const std::string& name) const;

private:
    std::shared_ptr<const void> mapping_;
    RegionKey key_;
    std::vector<Section> sections_;
};

struct OpenedRegion {
    std::optional<RegionFile> file;
    std::string reason; ///< why there is no file: "is cut short", "section network fails its checksum" ...
};

/// Whether sections are checked when the file is opened, or each when it is asked for.
enum class SectionCheck { now, when_asked };

/// Every bound and count, and the checksum of the header, is checked first; never throws on what the file holds.
OpenedRegion open_region_file(const std::filesystem::path& file, SectionCheck check = SectionCheck::now);

/// Writes under a name no other process uses, flushes, renames: readers and other writers see the old file or the new
/// one, whole. Gives why it could not be written, or nothing; then nothing is left behind.
std::optional<std::string> write_region_file(const std::filesystem::path& file, const RegionKey& key,
                                             const std::vector<RegionSection>& sections);

} // namespace routing::roads
