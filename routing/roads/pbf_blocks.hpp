#pragma once
/// Checks that a PBF file is whole: blocks follow one another right up to its end.
///
/// A download cut short between two bytes of a block's size, or a size of zero, looks like a clean end to libosmium;
/// the map would silently lack its last part. Reads only the few bytes before each block. Source: OSM wiki, PBF Format,
/// "File format".

#include <filesystem>
#include <string>

namespace routing::roads {

/// What is wrong with the file's block structure in words, empty when nothing is.
std::string fault_in_pbf_blocks(const std::filesystem::path& file);

} // namespace routing::roads
