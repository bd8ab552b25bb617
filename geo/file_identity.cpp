#include "geo/file_identity.hpp"

#include <zlib.h>

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <vector>

namespace geo {

std::optional<FileIdentity> look_at(const std::filesystem::path& file) {
    struct stat found {};
    if (::stat(file.c_str(), &found) != 0 || !S_ISREG(found.st_mode))
        return std::nullopt;
    return FileIdentity{static_cast<std::uint64_t>(found.st_size),
                        std::int64_t{found.st_mtim.tv_sec} * 1'000'000'000 + found.st_mtim.tv_nsec, 0};
}

std::uint64_t checksum(std::span<const std::byte> bytes) {
    return crc32_z(crc32_z(0, nullptr, 0), reinterpret_cast<const Bytef*>(bytes.data()), bytes.size());
}

std::optional<std::uint64_t> checksum_of(const std::filesystem::path& file) {
    const int handle = ::open(file.c_str(), O_RDONLY | O_CLOEXEC);
    if (handle < 0)
        return std::nullopt;
    std::vector<Bytef> block(1U << 18U);
    uLong sum = crc32_z(0, nullptr, 0);
    ssize_t got = 0;
    do {
        got = ::read(handle, block.data(), block.size());
        if (got > 0)
            sum = crc32_z(sum, block.data(), static_cast<z_size_t>(got));
    } while (got > 0 || (got < 0 && errno == EINTR));
    ::close(handle);
    return got == 0 ? std::optional<std::uint64_t>(sum) : std::nullopt;
}

} // namespace geo
