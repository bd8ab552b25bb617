#pragma once
/// Plain values to bytes and back, little-endian, for files the program writes for itself.
///
///     ByteWriter writer;
///     writer.put(std::uint32_t{7});
///     writer.put_text("ford");
///     ByteReader reader(bytes);
///     const auto seven = reader.get<std::uint32_t>();
///     if (!reader.ended_well()) ...   // too short, too long, or a count that can't be

#include <bit>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <span>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <vector>

namespace geo {

static_assert(std::endian::native == std::endian::little, "values are copied as they lie in memory");

class ByteWriter {
public:
    /// T must have no padding: what lies there is not ours to write.
    template <class T>
    void put(const T& value) {
        static_assert(std::is_trivially_copyable_v<T> && !std::is_same_v<T, bool>);
        append(&value, sizeof value);
    }
    void put_text(std::string_view text) {
        put(std::uint64_t{text.size()});
        append(text.data(), text.size());
    }
    template <class T>
    void put_all(const std::vector<T>& values) {
        static_assert(std::is_trivially_copyable_v<T> && !std::is_same_v<T, bool>);
        put(std::uint64_t{values.size()});
        append(values.data(), values.size() * sizeof(T));
    }
    std::vector<std::byte> take() { return std::move(bytes_); }

private:
    void append(const void* from, std::size_t size) {
        const auto* first = static_cast<const std::byte*>(from);
        bytes_.insert(bytes_.end(), first, first + size);
    }
    std::vector<std::byte> bytes_;
};

/// Once something did not fit, every further value is zero or empty and `ended_well` is false.
class ByteReader {
public:
    explicit ByteReader(std::span<const std::byte> bytes) : rest_(bytes) {}

    template <class T>
    T get() {
        static_assert(std::is_trivially_copyable_v<T> && !std::is_same_v<T, bool>);
        T value{};
        if (const auto from = next(1, sizeof(T)); !from.empty())
            std::memcpy(&value, from.data(), sizeof value);
        return value;
    }
    std::string text() {
        const auto from = next(get<std::uint64_t>(), 1);
        return {reinterpret_cast<const char*>(from.data()), from.size()};
    }
    template <class T>
    std::vector<T> all() {
        static_assert(std::is_trivially_copyable_v<T> && !std::is_same_v<T, bool>);
        const auto from = next(get<std::uint64_t>(), sizeof(T));
        std::vector<T> values(from.size() / sizeof(T));
        if (!from.empty())
            std::memcpy(values.data(), from.data(), from.size());
        return values;
    }
    bool failed() const { return failed_; }
    bool ended_well() const { return !failed_ && rest_.empty(); }

private:
    std::span<const std::byte> next(std::uint64_t count, std::size_t size) {
        if (failed_ || count > rest_.size() / size) { // divided, so that no count can overflow
            failed_ = true;
            return {};
        }
        const auto taken = rest_.first(static_cast<std::size_t>(count) * size);
        rest_ = rest_.subspan(taken.size());
        return taken;
    }
    std::span<const std::byte> rest_;
    bool failed_ = false;
};

} // namespace geo
