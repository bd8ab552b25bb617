#pragma once
/// Everything between the villages: ring road, pass, valley roads, lanes, tracks, footpaths, streams, the ferry.
///
///     regions::lay_roads(map, terrain, names, villages);

#include "regions/map_draft.hpp"
#include "regions/names.hpp"
#include "regions/terrain.hpp"
#include "regions/village.hpp"

#include <vector>

namespace regions {

void lay_roads(MapDraft& map, const Terrain& terrain, NameBook& names, std::vector<Village>& villages);

} // namespace regions
