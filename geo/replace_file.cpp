#include "geo/replace_file.hpp"

#include <fcntl.h>
#include <sys/types.h>
#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <cerrno>
#include <system_error>

namespace geo {

namespace {

bool write_at(int handle, FilePiece piece) {
    while (!piece.bytes.empty()) {
        const ssize_t written =
            ::pwrite(handle, piece.bytes.data(), piece.bytes.size(), static_cast<off_t>(piece.offset));
        if (written < 0 && errno != EINTR)
            return false;
        if (written > 0) {
            piece.bytes = piece.bytes.subspan(static_cast<std::size_t>(written));
            piece.offset += static_cast<std::uint64_t>(written);
        }
    }
    return true;
}

std::string system_words() {
    return std::generic_category().message(errno);
}

} // namespace

std::optional<std::string> replace_file(const std::filesystem::path& file, const std::vector<FilePiece>& pieces) {
    std::uint64_t end = 0;
    for (const FilePiece& piece : pieces)
        end = std::max(end, piece.offset + piece.bytes.size());
    static std::atomic<unsigned> counter{0};
    std::filesystem::path temporary;
    int handle = -1;
    do { // a name may be left from a process that died
        temporary = file.parent_path() /
                    (".dayweave-" + std::to_string(::getpid()) + "-" + std::to_string(counter++) + ".prepared");
        handle = ::open(temporary.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    } while (handle < 0 && errno == EEXIST);
    if (handle < 0)
        return system_words();
    bool good = ::ftruncate(handle, static_cast<off_t>(end)) == 0;
    for (std::size_t n = 0; n < pieces.size() && good; ++n)
        good = write_at(handle, pieces[n]);
    good = good && ::fsync(handle) == 0;
    std::string why = good ? "" : system_words();
    if (::close(handle) != 0 && good) {
        good = false;
        why = system_words();
    }
    if (good && ::rename(temporary.c_str(), file.c_str()) != 0) {
        good = false;
        why = system_words();
    }
    if (good)
        return std::nullopt;
    ::unlink(temporary.c_str());
    return why;
}

} // namespace geo
