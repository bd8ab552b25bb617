#pragma once
/// Mends coordinates in OSM XML that libosmium gives up on.
///
/// It holds degrees times 10^7 in 32 bits and throws at a latitude or longitude beyond 214.7 degrees or one that is not
/// a number; the whole load would stop for one bad node (seen in the wild: longitude 214.75, osm2pgsql PR 455).

#include <osmium/io/file.hpp>

#include <string>

namespace routing::roads {

/// The unpacked XML with each such coordinate replaced by "200": it can be held, and is still invalid. Costs the whole
/// text in memory; called only after an ordinary reading has failed.
std::string xml_with_possible_coordinates(const osmium::io::File& file);

} // namespace routing::roads
