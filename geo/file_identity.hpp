#pragma once
/// Whether a file is still the one something was made from.
///
///     const auto before = geo::look_at("N47E009.hgt");       // quick: size and time of change
///     const auto sum = geo::checksum_of("N47E009.hgt");      // reads it all
///
/// Checksums are CRC-32 (zlib): they find accidents, not forgery.

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <span>

namespace geo {

struct FileIdentity {
    std::uint64_t size = 0;
    std::int64_t changed = 0;   ///< time of the last change, nanoseconds since 1970
    std::uint64_t checksum = 0; ///< CRC-32 of the whole content
    friend bool operator==(const FileIdentity&, const FileIdentity&) = default;
};

/// Size and time of change, without reading the file (checksum 0); nothing when it is no plain file.
std::optional<FileIdentity> look_at(const std::filesystem::path& file);
/// CRC-32 (zlib).
std::uint64_t checksum(std::span<const std::byte> bytes);
/// CRC-32 of the content; nothing when it can't be read.
std::optional<std::uint64_t> checksum_of(const std::filesystem::path& file);

} // namespace geo
