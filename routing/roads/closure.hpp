#pragma once
/// Roads shut by the crew: by name near a point, by way ids, by area, by point and radius, by a drawn line.

#include "geo/local_time.hpp"
#include "routing/roads/network.hpp"
#include "routing/roads/snap.hpp"

#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace routing::roads {

struct RoadNamed {
    std::string name;                    ///< whole name or ref, letter case and accents as mapped, case ignored
    std::optional<geo::Coordinate> near; ///< the connected stretch of that name nearest to here
};
struct Ways {
    std::vector<OsmId> ids;
};
struct Area {
    std::vector<geo::Coordinate> ring; ///< closed or not, either winding
};
struct Circle {
    geo::Coordinate centre;
    geo::Metres radius;
};

using ClosedWhere = std::variant<RoadNamed, Ways, Area, Circle>;

struct Closure {
    ClosedWhere where;
    std::string label; ///< as the user wrote it, for messages
};

/// Which edges are shut; one flag an edge.
using ClosedEdges = std::vector<bool>;

struct ClosureMatch {
    std::vector<EdgeIndex> edges;        ///< empty: nothing matched
    std::vector<std::string> candidates; ///< when nothing matched: the nearest names or way ids, with distance
    std::string description;             ///< "Ridge Road, 4.2 km in 7 pieces"
};

ClosureMatch match_closure(const RoadNetwork& network, const SnapIndex& index, const Closure& closure);

} // namespace routing::roads
