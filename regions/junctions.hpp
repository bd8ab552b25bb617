#pragma once
/// Where lines meet: roads that cross get a shared node, roads over a stream a bridge or a ford.
///
///     regions::tie_crossings(map);
///     regions::span_streams(map);

#include "regions/map_draft.hpp"

namespace regions {

/// Gives a shared node to any two roads whose lines cross. Tunnels are left out.
void tie_crossings(MapDraft& map);

/// Cuts a bridge into every road over a stream; tracks and paths ford it at a shared node.
void span_streams(MapDraft& map);

/// Replaces a junction by a ring the traffic goes round counter-clockwise (driving on the right).
WayId make_roundabout(MapDraft& map, NodeId junction, double radius, TagMap tags);

} // namespace regions
