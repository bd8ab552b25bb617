#pragma once
/// Where optional data lies: $DAYWEAVE_SHARED_DATA, else ../shared/data beside the checkout. Tests ask through
/// shared_data.hpp, which says when a file is not there.

#include <cstdlib>
#include <filesystem>
#include <string>

namespace support {

inline std::filesystem::path data_file(const std::string& name) {
    const char* named = std::getenv("DAYWEAVE_SHARED_DATA");
    const std::filesystem::path folder =
        named ? std::filesystem::path(named) : std::filesystem::path(DAYWEAVE_SOURCE_DIR) / ".." / "shared" / "data";
    return (folder / name).lexically_normal();
}

} // namespace support
