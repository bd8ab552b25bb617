#pragma once
/// Where a crew eats, sleeps, fills up, parks or gets help on the island, as nodes, outlines and multipolygons.
///
///     regions::settle_places(map, terrain, names, villages);

#include "regions/map_draft.hpp"
#include "regions/names.hpp"
#include "regions/terrain.hpp"
#include "regions/village.hpp"

#include <vector>

namespace regions {

void settle_places(MapDraft& map, const Terrain& terrain, NameBook& names, const std::vector<Village>& villages);

} // namespace regions
