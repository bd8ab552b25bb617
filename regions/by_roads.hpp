#pragma once
/// The table of side roads, tracks and footpaths: from where on the standing network, to where, tagged how.
///
///     for (const regions::ByRoad& road : regions::by_roads(terrain)) ...

#include "regions/map_draft.hpp"
#include "regions/terrain.hpp"
#include "regions/way_finder.hpp"

#include <string>
#include <vector>

namespace regions {

struct ByRoad {
    std::string name; ///< empty: unnamed
    Spot from;        ///< the nearest point of a car road (a footpath: of any road)
    Spot to;          ///< dead end, or with `joins` the nearest point of a road
    bool joins = false;
    RouteStyle style;
    TagMap tags;
};

/// In the order they are to be laid.
std::vector<ByRoad> by_roads(const Terrain& terrain);

/// Places the by-roads lead to and landmarks stand on.
struct SightSpots {
    Spot cove, arch, lighthouse, quarry, moor, tarn, chapel, bird_cliff, ruin, dunes;
};
SightSpots sight_spots(const Terrain& terrain);

} // namespace regions
