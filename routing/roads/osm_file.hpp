#pragma once
/// One OpenStreetMap file, opened for reading object by object; every fault of the file or of the reading packages
/// comes out as geo::InputError. Brings in libosmium: for .cpp files of this folder only.
///
///     const OsmFile file{"map.osm.pbf"};
///     file.for_each(osmium::osm_entity_bits::way, [&](const osmium::OSMObject& object) { ... });

#include "geo/input_error.hpp"

#include <osmium/io/gzip_compression.hpp>
#include <osmium/io/pbf_input.hpp>
#include <osmium/io/reader.hpp>
#include <osmium/io/xml_input.hpp>
#include <osmium/osm.hpp>
#include <osmium/thread/pool.hpp>

#include <exception>
#include <filesystem>
#include <string>
#include <utility>

namespace routing::roads {

class OsmFile {
public:
    /// Throws geo::InputError unless `file` is there, readable, not empty, of a known suffix and, for PBF, whole.
    explicit OsmFile(const std::filesystem::path& file);

    /// Calls `visit(const osmium::OSMObject&)` for each object of the kinds asked for, in file order, deleted ones too.
    /// Throws geo::InputError for broken data; `visit` may have seen objects by then.
    ///
    /// Exception: osmium::invalid_location passes through; see read_around_bad_coordinates.
    template <class Visit>
    void for_each(osmium::osm_entity_bits::type kinds, Visit visit) const {
        try {
            // A pool of this call's own: its threads end here, not at exit.
            osmium::thread::Pool pool;
            osmium::io::Reader reader{source(), kinds, pool};
            reader.header(); // faults of the header come out here, not as an empty file
            while (const osmium::memory::Buffer buffer = reader.read())
                for (const osmium::OSMObject& object : buffer.select<osmium::OSMObject>())
                    visit(object);
            reader.close();
        } catch (const geo::InputError&) {
            throw;
        } catch (const osmium::invalid_location&) {
            throw;
        } catch (const std::exception& fault) {
            refuse_broken(fault.what());
        }
    }

    /// Date of the data from the header, ISO 8601 in UTC; empty when the file gives none or one outside 2004 to 2049.
    std::string data_date() const;

    /// From now on reads a copy in memory in which coordinates that no number format of ours can hold are replaced by
    /// ones that are merely invalid, so that one bad node does not stop a load. XML only.
    void read_around_bad_coordinates();

    [[noreturn]] void refuse(const std::string& problem, const std::string& mend) const;

private:
    osmium::io::File source() const;
    [[noreturn]] void refuse_broken(const std::string& reason) const;

    std::filesystem::path file_;
    std::string format_; ///< in libosmium's words: "pbf", "osm.gz" ...
    std::string repaired_;
};

} // namespace routing::roads
