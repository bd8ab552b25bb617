#include "routing/roads/osm_file.hpp"

#include "routing/roads/bzip2_input.hpp"
#include "routing/roads/pbf_blocks.hpp"
#include "routing/roads/xml_coordinates.hpp"

#include <array>
#include <fstream>
#include <string_view>

namespace routing::roads {
namespace {

struct Suffix {
    std::string_view ending;
    std::string_view format; ///< told to libosmium, so that it never guesses
};

// .osh is .osm with the history of each object.
constexpr std::array suffixes{
    Suffix{".osm.pbf", "osm.pbf"}, Suffix{".osh.pbf", "osh.pbf"}, Suffix{".pbf", "osm.pbf"},
    Suffix{".osm.gz", "osm.gz"},   Suffix{".osh.gz", "osh.gz"},   Suffix{".osm.bz2", "osm.bz2"},
    Suffix{".osh.bz2", "osh.bz2"}, Suffix{".osm", "osm"},         Suffix{".osh", "osh"},
};

std::string format_of(const std::filesystem::path& file) {
    const std::string name = file.filename().string();
    for (const Suffix& suffix : suffixes)
        if (name.size() > suffix.ending.size() && name.ends_with(suffix.ending))
            return std::string{suffix.format};
    return {};
}

} // namespace

OsmFile::OsmFile(const std::filesystem::path& file) : file_(file), format_(format_of(file)) {
    use_our_bzip2_input();
    std::error_code fault;
    const auto status = std::filesystem::status(file, fault);
    if (!std::filesystem::exists(status))
        refuse("is not there", "check the path");
    if (std::filesystem::is_directory(status))
        refuse("is a folder", "name the map file inside it");
    if (!std::filesystem::is_regular_file(status))
        refuse("is no ordinary file", "save the map to a file first: it is read more than once");
    if (format_.empty())
        refuse("has an unknown ending", "map files end in .osm.pbf, .osm, .osm.gz or .osm.bz2");
    if (std::ifstream in{file, std::ios::binary}; !in)
        refuse("can't be read", "check its permissions");
    if (std::filesystem::file_size(file, fault) == 0)
        refuse("is empty", "fetch or export the map again");
    if (format_.ends_with(".pbf")) {
        const std::string problem = fault_in_pbf_blocks(file);
        if (!problem.empty())
            refuse(problem, "fetch or export the map again");
    }
}

osmium::io::File OsmFile::source() const {
    if (!repaired_.empty())
        return osmium::io::File{repaired_.data(), repaired_.size(), format_.starts_with("osh") ? "osh" : "osm"};
    // Absolute, because libosmium takes "-" for standard input and "http:..." for something to fetch.
    return osmium::io::File{std::filesystem::absolute(file_).string(), format_};
}

std::string OsmFile::data_date() const {
    std::string text;
    try {
        osmium::thread::Pool pool;
        osmium::io::Reader reader{source(), osmium::osm_entity_bits::nothing, pool};
        const osmium::io::Header header = reader.header();
        text = header.get("osmosis_replication_timestamp", header.get("timestamp"));
        reader.close();
    } catch (const std::exception& fault) {
        refuse_broken(fault.what());
    }
    try {
        const osmium::Timestamp date{text};
        const std::string iso = date.to_iso();
        // Map data begins in 2004; a header with a year like 2068 is known to exist.
        if (iso >= "2004" && iso < "2050")
            return iso;
    } catch (const std::exception&) {
        // Not a date: as good as none.
    }
    return {};
}

void OsmFile::read_around_bad_coordinates() {
    if (format_.ends_with("pbf"))
        refuse_broken("impossible coordinate");
    try {
        repaired_ = xml_with_possible_coordinates(source());
    } catch (const std::exception& fault) {
        refuse_broken(fault.what());
    }
}

void OsmFile::refuse(const std::string& problem, const std::string& mend) const {
    throw geo::InputError({{file_.string(), "", "", problem, mend}});
}

void OsmFile::refuse_broken(const std::string& reason) const {
    refuse("is broken or cut short (" + reason + ")", "fetch or export the map again");
}

} // namespace routing::roads
