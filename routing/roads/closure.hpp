#pragma once
/// Roads shut by the crew: by name near a point, by way ids, by a drawn line, by area, by point and radius.
///
///     const auto match = match_closure(network, index, {RoadNamed{"Ridge Road", camp}, "Ridge Road at the camp"});
///     if (!match.problem.empty()) ... // name match.candidates
///     close(closed_edges, network, match);
///
/// Only roads the van may use can be shut; others are not on its map and don't match.

#include "geo/units.hpp"
#include "routing/roads/network.hpp"
#include "routing/roads/snap.hpp"

#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace routing::roads {

/// A whole name or ref ("Harbour Road", "B 12"), letter case ignored; when no road has it so written, accents are
/// ignored too. Of "Harbour Road (B 12;E 4)" each of the two parts and each item of a ;-list will do.
struct RoadNamed {
    std::string name;
    /// Only the connected stretch of that name nearest to here, at most 2 km off. Roads of one name count as connected
    /// across gaps of 50 m (roundabouts, the halves of a divided road); both figures are ours.
    std::optional<geo::Coordinate> near;
};
struct Ways {
    std::vector<OsmId> ids;
};
/// Every road that crosses it or comes within `line_margin` of it: a bridge, a ford, a parade's way.
struct Line {
    std::vector<geo::Coordinate> points; ///< two different ones or more; straight in longitude and latitude between
};
/// Ours: a line drawn along a road by hand stays about so near to it.
inline constexpr geo::Metres line_margin{10.0};
/// Every road that enters, crosses or touches it. A ring that crosses itself holds what it winds around.
struct Area {
    std::vector<geo::Coordinate> ring; ///< closed or not, either winding
};
/// Every road that comes within `radius`.
struct Circle {
    geo::Coordinate centre;
    geo::Metres radius;
};

using ClosedWhere = std::variant<RoadNamed, Ways, Line, Area, Circle>;

struct Closure {
    ClosedWhere where;
    std::string label;                   ///< as the user wrote it, for messages
    std::optional<geo::Instant> from{};  ///< unset: since ever
    std::optional<geo::Instant> until{}; ///< unset: for ever
};

/// Which edges are shut; one flag an edge, or empty for none.
using ClosedEdges = std::vector<bool>;

struct ClosureMatch {
    std::vector<EdgeIndex> edges; ///< in order of index, none twice; empty: nothing matched
    /// What matched nothing, for an error message: "no road is named \"Rige Road\"". Empty when all of it matched; one
    /// way id of several can be unknown while `edges` is not empty.
    std::string problem;
    std::vector<std::string>
        candidates;          ///< with a problem: at most five near names or way ids, "Ridge Road, 300 m away"
    std::string description; ///< "Ridge Road, 4.2 km in 7 pieces"; empty when nothing matched
};

ClosureMatch match_closure(const RoadNetwork& network, const SnapIndex& index, const Closure& closure);

/// Shuts what matched, besides what is shut already.
void close(ClosedEdges& closed_edges, const RoadNetwork& network, const ClosureMatch& match);

} // namespace routing::roads
