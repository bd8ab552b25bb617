#pragma once
/// A file's bytes without copying them.
///
///     const geo::MappedFile mapped = geo::map_file("N47E009.hgt");
///     if (!mapped.reason.empty()) say(mapped.reason); else use(mapped.bytes);
///
/// The bytes stay while `owner` or a copy of it lives. Whoever shortens the file meanwhile ends the program (SIGBUS),
/// as with every mapping; files are replaced by renaming, not written over.

#include <cstddef>
#include <filesystem>
#include <memory>
#include <span>
#include <string>

namespace geo {

struct MappedFile {
    std::shared_ptr<const void> owner;
    std::span<const std::byte> bytes;
    std::string reason; ///< why there are no bytes, "is not there"; empty when all went well, with an empty file too
};

MappedFile map_file(const std::filesystem::path& file);

} // namespace geo
