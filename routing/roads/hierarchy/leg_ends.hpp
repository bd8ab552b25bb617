#pragma once
/// Where a leg enters the roads open to all, and where it leaves them: the nodes reached over the road a point lies on
/// and over the destination-only roads around it.
///
///     LegEnds ends(network);
///     for (const LegEnd& end : ends.departures(harbour, shut)) ...

#include "routing/roads/closure.hpp"
#include "routing/roads/network.hpp"
#include "routing/roads/snap.hpp"

#include <functional>
#include <utility>
#include <vector>

namespace routing::roads::hierarchy {

struct LegEnd {
    std::uint32_t node = 0;
    Milliseconds time = 0;     ///< between the point and the node
    std::uint32_t next = none; ///< position in the list of the end that is one road nearer to the point
    std::uint32_t arc = none;  ///< the destination-only arc between the two; without `next`: the arc along the point's
                               ///< own edge
};

/// Dijkstra's algorithm over destination-only roads, which lie in small patches. Refers to the network.
class LegEnds {
public:
    explicit LegEnds(const RoadNetwork& network);
    using IsShut = std::function<bool(EdgeIndex)>;
    /// By rising time; a node comes once.
    std::vector<LegEnd> departures(const RoadPoint& from, const IsShut& is_shut) const;
    std::vector<LegEnd> arrivals(const RoadPoint& to, const IsShut& is_shut) const;

private:
    std::vector<LegEnd> ends_of(const RoadPoint& point, bool onward, const IsShut& is_shut) const;
    std::vector<LegEnd> spread(std::vector<LegEnd> seeds, bool onward, bool in_zone, const IsShut& is_shut) const;

    const RoadNetwork& network_;
    std::vector<std::pair<std::uint32_t, std::uint32_t>> zone_arcs_into_; ///< (head, arc), sorted
};

} // namespace routing::roads::hierarchy
