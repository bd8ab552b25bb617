#pragma once
/// Signs and obstacles: roundabouts, turn restrictions, gates, bollards, signals, steps, and the faults left in the
/// map on purpose.
///
///     regions::put_up_signs(map, terrain);

#include "regions/map_draft.hpp"
#include "regions/names.hpp"
#include "regions/terrain.hpp"
#include "regions/village.hpp"

#include <vector>

namespace regions {

/// Before streams are bridged: changes what touches what.
void build_roundabouts(MapDraft& map, const std::vector<Village>& villages);
/// Barriers, signals, steps, limits.
void put_up_signs(MapDraft& map, const Terrain& terrain);
/// Turn restrictions, one of them faulty; last of all that cuts ways.
void restrict_turns(MapDraft& map, const std::vector<Village>& villages);
/// A lane with a hole and a yard that joins nothing, as real extracts have them; see the region's README.
void leave_defects(MapDraft& map, const std::vector<Village>& villages);

} // namespace regions
