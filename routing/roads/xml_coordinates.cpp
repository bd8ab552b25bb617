#include "routing/roads/xml_coordinates.hpp"

#include <osmium/io/compression.hpp>
#include <osmium/io/detail/read_write.hpp>
#include <osmium/io/gzip_compression.hpp>
#include <osmium/osm/location.hpp>

#include <cstring>
#include <memory>

namespace routing::roads {
namespace {

std::string unpacked(const osmium::io::File& file) {
    const int descriptor = osmium::io::detail::open_for_reading(file.filename());
    const std::unique_ptr<osmium::io::Decompressor> input =
        osmium::io::CompressionFactory::instance().create_decompressor(file.compression(), descriptor);
    std::string text;
    for (std::string piece = input->read(); !piece.empty(); piece = input->read())
        text += piece;
    input->close();
    return text;
}

bool can_be_held(const std::string& coordinate) {
    try {
        osmium::Location place;
        place.set_lon(coordinate.c_str());
        return true;
    } catch (const osmium::invalid_location&) {
        return false;
    }
}

bool is_space(char c) {
    return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

} // namespace

std::string xml_with_possible_coordinates(const osmium::io::File& file) {
    const std::string text = unpacked(file);
    std::string mended;
    mended.reserve(text.size());
    std::size_t copied = 0;
    for (std::size_t at = text.find('='); at != std::string::npos; at = text.find('=', at + 1)) {
        const bool is_coordinate = at >= 4 && is_space(text[at - 4]) &&
                                   (text.compare(at - 3, 3, "lat") == 0 || text.compare(at - 3, 3, "lon") == 0);
        if (!is_coordinate || at + 1 >= text.size() || (text[at + 1] != '"' && text[at + 1] != '\''))
            continue;
        const std::size_t begin = at + 2;
        const std::size_t end = text.find(text[at + 1], begin);
        if (end == std::string::npos)
            break;
        if (can_be_held(text.substr(begin, end - begin)))
            continue;
        mended.append(text, copied, begin - copied).append("200");
        copied = end;
    }
    return mended.append(text, copied, std::string::npos);
}

} // namespace routing::roads
