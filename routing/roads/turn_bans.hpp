#pragma once
/// From restriction relations to forbidden sequences of road pieces.

#include "routing/roads/directed_piece.hpp"
#include "routing/roads/osm_extract.hpp"
#include "routing/roads/road_pieces.hpp"
#include "routing/roads/vehicle.hpp"

#include <vector>

namespace routing::roads {

/// Two or more directed pieces that may not be driven one right after the other.
using ForbiddenSequence = std::vector<DirectedPiece>;

/// Sequences forbidden by the restrictions that bind `vehicle`; an only_* gives one for each exit it forbids.
///
/// A relation whose members are missing, do not meet, or whose only_* exit can't be driven is left out and counted: it
/// must never turn a road into a dead end. Source: OSM wiki, Relation:restriction.
std::vector<ForbiddenSequence> find_turn_bans(const OsmExtract& extract, const RoadPieces& roads,
                                              const Vehicle& vehicle, BuildCounts& counts);

} // namespace routing::roads
