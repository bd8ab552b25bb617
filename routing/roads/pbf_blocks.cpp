#include "routing/roads/pbf_blocks.hpp"

#include <protozero/pbf_reader.hpp>

#include <array>
#include <cstdint>
#include <fstream>

namespace routing::roads {
namespace {

// OSM wiki, PBF Format: a BlobHeader must stay under 64 KiB, a Blob under 32 MiB.
constexpr std::uint32_t largest_header = 64 * 1024;
constexpr std::int64_t largest_blob = 32 * 1024 * 1024;

struct BlockHeader {
    std::string type;
    std::int64_t data_size = -1;
};

BlockHeader read_header(const std::string& bytes) {
    BlockHeader header;
    protozero::pbf_reader message{bytes};
    while (message.next()) {
        if (message.tag() == 1 && message.wire_type() == protozero::pbf_wire_type::length_delimited)
            header.type = message.get_string();
        else if (message.tag() == 3 && message.wire_type() == protozero::pbf_wire_type::varint)
            header.data_size = message.get_int32();
        else
            message.skip();
    }
    return header;
}

std::uint32_t big_endian(const std::array<char, 4>& bytes) {
    std::uint32_t value = 0;
    for (const char byte : bytes)
        value = value << 8U | static_cast<unsigned char>(byte);
    return value;
}

} // namespace

std::string fault_in_pbf_blocks(const std::filesystem::path& file) {
    const auto file_size = static_cast<std::int64_t>(std::filesystem::file_size(file));
    std::ifstream in{file, std::ios::binary};
    std::int64_t offset = 0;
    for (std::uint64_t block = 1; offset < file_size; ++block) {
        const std::string where = "block " + std::to_string(block) + " at byte " + std::to_string(offset);
        std::array<char, 4> size_bytes{};
        if (!in.seekg(offset) || !in.read(size_bytes.data(), size_bytes.size()))
            return "ends in the middle of " + where;
        const std::uint32_t header_size = big_endian(size_bytes);
        if (header_size == 0 || header_size > largest_header)
            return block == 1 ? "is not a PBF file" : "has no block header where one should be, " + where;
        std::string bytes(header_size, '\0');
        if (!in.read(bytes.data(), header_size))
            return "ends in the middle of " + where;
        BlockHeader header;
        try {
            header = read_header(bytes);
        } catch (const std::exception&) {
            return "has an unreadable block header, " + where;
        }
        if (block == 1 && header.type != "OSMHeader")
            return "is not an OpenStreetMap PBF file: it does not begin with an OSMHeader block";
        if (header.data_size <= 0 || header.data_size > largest_blob)
            return "has a block of impossible size, " + where;
        offset += 4 + static_cast<std::int64_t>(header_size) + header.data_size;
        if (offset > file_size)
            return "ends in the middle of " + where;
    }
    return {};
}

} // namespace routing::roads
