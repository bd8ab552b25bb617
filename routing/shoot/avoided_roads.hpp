#pragma once
/// The crew's wishes on roads, kept where they can be: toll roads, ferries, unpaved roads are shut like closures,
/// unless a stop of the shoot could then not be reached and left.
///
///     const AvoidedRoads roads = avoid_roads(shoot, region, points, shut);
///     const Metric times(region.hierarchy, *region.network, roads.shut);
///
/// What counts are the stops a shoot names: base, locations that scenes use (of several places to leave the van any one
/// will do), fixed meals, the bed (likewise), and where a running crew is. Stops already past count too, so that a
/// re-plan sets the same wishes aside as the plan before. Places found in the map don't: one that only an avoided road
/// reaches is not offered.

#include "routing/shoot/closed_roads.hpp"
#include "routing/shoot/stop_points.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace routing::shoot {

struct AvoidedRoads {
    roads::ClosedEdges shut; ///< closures and the wishes kept; empty when nothing is shut
    StopPoints points;       ///< as given; one on an avoided road at a junction stands on the other road there
    /// A sentence for each wish set aside, in the order of AvoidedKind, naming the stops that need it.
    std::vector<std::string> warnings;
};

/// EdgeNote bits of the roads a crew would keep off.
std::uint16_t avoided_notes(const Crew& crew);

/// Wishes are kept when each way between two stops that the closures leave is still there. Else as few kinds as will do
/// are set aside, for the whole plan; of equally many the first in the order: tolls, ferries, unpaved, tolls and
/// ferries, tolls and unpaved, ferries and unpaved, all. So a stop that stands on an avoided road sets that wish aside.
/// The kinds are those of roads::EdgeNote: tolls include the roads at a toll booth, unpaved is what the map calls so.
AvoidedRoads avoid_roads(const Shoot& shoot, const Region& region, const StopPoints& points, const ClosedRoads& shut);

} // namespace routing::shoot
