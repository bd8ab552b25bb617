#pragma once
/// Optional data beside the checkout: real map extracts, oracles, published instances. Not part of the project; a test
/// that needs it says loudly when it skips.
///
///     const auto file = support::shared_data("osm/monaco-2022-07-19.osm.pbf");
///     if (!file) return;

#include <doctest/doctest.h>

#include <cstdlib>
#include <filesystem>
#include <iostream>
#include <optional>
#include <string>

namespace support {

/// Path of an optional data file, from $DAYWEAVE_SHARED_DATA or ../shared/data beside the checkout; prints SKIPPED and
/// gives nothing when it is not there.
inline std::optional<std::filesystem::path> shared_data(const std::string& name) {
    const char* named = std::getenv("DAYWEAVE_SHARED_DATA");
    const std::filesystem::path folder =
        named ? std::filesystem::path(named) : std::filesystem::path(DAYWEAVE_SOURCE_DIR) / ".." / "shared" / "data";
    const std::filesystem::path file = folder / name;
    if (std::filesystem::exists(file))
        return file;
    std::cerr << "*** SKIPPED, data not here: " << file.lexically_normal().string() << " ***\n";
    MESSAGE("SKIPPED, data not here: ", file.lexically_normal().string());
    return std::nullopt;
}

} // namespace support
