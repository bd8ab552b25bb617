#include "geo/mapped_file.hpp"

#include <fcntl.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <system_error>

namespace geo {

namespace {

MappedFile refused(int error) {
    if (error == ENOENT)
        return {nullptr, {}, "is not there"};
    return {nullptr, {}, "can't be read: " + std::generic_category().message(error)};
}

} // namespace

MappedFile map_file(const std::filesystem::path& file) {
    const int handle = ::open(file.c_str(), O_RDONLY | O_CLOEXEC);
    if (handle < 0)
        return refused(errno);
    struct stat found {};
    if (::fstat(handle, &found) != 0) {
        const int error = errno;
        ::close(handle);
        return refused(error);
    }
    if (!S_ISREG(found.st_mode) || found.st_size == 0) {
        ::close(handle);
        return {nullptr, {}, S_ISREG(found.st_mode) ? "" : "is no plain file"};
    }
    const auto size = static_cast<std::size_t>(found.st_size);
    void* at = ::mmap(nullptr, size, PROT_READ, MAP_PRIVATE, handle, 0);
    const int error = errno;
    ::close(handle); // the mapping keeps the file
    if (at == MAP_FAILED)
        return refused(error);
    std::shared_ptr<const void> owner(at, [at, size](const void*) { ::munmap(at, size); });
    return {std::move(owner), {static_cast<const std::byte*>(at), size}, ""};
}

} // namespace geo
