#pragma once
/// Optional data beside the checkout: real map extracts, oracles, published instances. Not part of the project; a test
/// that needs it says loudly when it skips.
///
///     const auto file = support::shared_data("osm/monaco-2022-07-19.osm.pbf");
///     if (!file) return;

#include "tests/support/data_file.hpp"

#include <doctest/doctest.h>

#include <filesystem>
#include <iostream>
#include <optional>
#include <string>

namespace support {

/// Path of an optional data file; prints SKIPPED and gives nothing when it is not there.
inline std::optional<std::filesystem::path> shared_data(const std::string& name) {
    const std::filesystem::path file = data_file(name);
    if (std::filesystem::exists(file))
        return file;
    std::cerr << "*** SKIPPED, data not here: " << file.string() << " ***\n";
    MESSAGE("SKIPPED, data not here: ", file.string());
    return std::nullopt;
}

} // namespace support
