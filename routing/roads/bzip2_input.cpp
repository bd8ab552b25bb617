#include "routing/roads/bzip2_input.hpp"

#include <osmium/io/compression.hpp>
#include <osmium/io/detail/read_write.hpp>
#include <osmium/io/error.hpp>

#include <bzlib.h>

#include <array>
#include <stdexcept>
#include <string>

namespace routing::roads {
namespace {

class Bzip2Input final : public osmium::io::Decompressor {
public:
    explicit Bzip2Input(int descriptor) : descriptor_(descriptor) {}
    ~Bzip2Input() noexcept override {
        try {
            close();
        } catch (...) {
            // A destructor can't tell.
        }
    }
    Bzip2Input(const Bzip2Input&) = delete;
    Bzip2Input& operator=(const Bzip2Input&) = delete;
    Bzip2Input(Bzip2Input&&) = delete;
    Bzip2Input& operator=(Bzip2Input&&) = delete;

    /// The next stretch of text, empty only at the end of the file.
    std::string read() override {
        std::string text(input_buffer_size, '\0');
        stream_.next_out = text.data();
        stream_.avail_out = static_cast<unsigned>(text.size());
        while (stream_.avail_out == text.size()) {
            if (stream_.avail_in == 0 && !refill()) {
                if (in_stream_)
                    throw osmium::io_error{"bzip2: the file ends in the middle of its data"};
                break;
            }
            if (!in_stream_)
                begin_stream();
            const int result = BZ2_bzDecompress(&stream_);
            if (result == BZ_STREAM_END)
                end_stream();
            else if (result != BZ_OK)
                throw osmium::io_error{"bzip2: the packed data is damaged"};
        }
        text.resize(text.size() - stream_.avail_out);
        return text;
    }

    void close() override {
        end_stream();
        const int descriptor = descriptor_;
        descriptor_ = -1;
        osmium::io::detail::reliable_close(descriptor);
    }

private:
    bool refill() {
        const auto size =
            osmium::io::detail::reliable_read(descriptor_, packed_.data(), static_cast<unsigned>(packed_.size()));
        stream_.next_in = packed_.data();
        stream_.avail_in = static_cast<unsigned>(size);
        return size > 0;
    }

    void begin_stream() {
        if (BZ2_bzDecompressInit(&stream_, 0, 0) != BZ_OK)
            throw std::bad_alloc{};
        in_stream_ = true;
    }

    void end_stream() {
        if (in_stream_)
            BZ2_bzDecompressEnd(&stream_);
        in_stream_ = false;
    }

    int descriptor_;
    bz_stream stream_{};
    bool in_stream_ = false;
    std::array<char, 64 * 1024> packed_{};
};

} // namespace

void use_our_bzip2_input() {
    [[maybe_unused]] static const bool registered = osmium::io::CompressionFactory::instance().register_compression(
        osmium::io::file_compression::bzip2,
        [](int, osmium::io::fsync) -> osmium::io::Compressor* { throw std::logic_error{"maps are only read here"}; },
        [](int descriptor) -> osmium::io::Decompressor* { return new Bzip2Input{descriptor}; },
        [](const char*, std::size_t) -> osmium::io::Decompressor* {
            throw std::logic_error{"packed maps are read from files only"};
        });
}

} // namespace routing::roads
