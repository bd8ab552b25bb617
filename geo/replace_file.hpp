#pragma once
/// Puts a whole new file in a file's place.
///
///     if (const auto why = geo::replace_file("map.prepared", {{0, header}, {4096, body}}))
///         say(*why);
///
/// Written under a name no other process uses, flushed, renamed: readers and other writers see the old file or the new
/// one, whole, whatever happens meanwhile.

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace geo {

struct FilePiece {
    std::uint64_t offset = 0;
    std::span<const std::byte> bytes;
};

/// As long as the farthest piece reaches; zeros between pieces. Gives why it could not be written, or nothing; then
/// nothing is left behind.
std::optional<std::string> replace_file(const std::filesystem::path& file, const std::vector<FilePiece>& pieces);

} // namespace geo
