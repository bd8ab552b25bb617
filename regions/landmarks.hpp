#pragma once
/// What a film crew comes for: peaks, cove, arch, lighthouse, quarry, market square; and the coastline itself.
///
///     regions::draw_coast(map, terrain);
///     regions::set_landmarks(map, terrain, villages);

#include "regions/map_draft.hpp"
#include "regions/terrain.hpp"
#include "regions/village.hpp"

#include <vector>

namespace regions {

/// natural=coastline in several ways around the island, one around each rock and the islet, and place=island areas.
void draw_coast(MapDraft& map, const Terrain& terrain);
void set_landmarks(MapDraft& map, const Terrain& terrain, const std::vector<Village>& villages);

} // namespace regions
