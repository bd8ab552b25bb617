#pragma once
/// How slopes change the time on foot.
///
///     SlopePace pace(foot_network, sheet);
///     const Milliseconds up = pace.crossing(edge, true);
///
/// Tobler's hiking function (NCGIA Technical Report 93-1, 1993): 6 exp(-3.5 |S + 0.05|) km/h on slope S, so a stretch
/// takes exp(3.5 (|S + 0.05| - 0.05)) times what it takes on the level. Slopes are taken over 25 m and less (ours);
/// where the ground is not known the way counts as level. On steps the table's pace holds, whatever the slope. Bridges
/// and tunnels run straight from end to end.

#include "geo/terrain/elevation_sheet.hpp"
#include "routing/roads/network.hpp"

#include <vector>

namespace routing::roads::foot {

/// Remembers what it was asked. Refers to both. Not for two threads at once.
class SlopePace {
public:
    SlopePace(const RoadNetwork& foot, const geo::terrain::ElevationSheet& ground);
    /// Of a whole edge; `closed` where the network says so.
    Milliseconds crossing(EdgeIndex edge, bool forward);

private:
    double slowing(const Edge& edge, bool forward) const;

    const RoadNetwork& network_;
    const geo::terrain::ElevationSheet& ground_;
    std::vector<Milliseconds> known_; ///< [2 * edge + way]; 0: not asked yet
};

/// What a slope (rise by run) makes of the time on the level: 1 on the level, 0.84 at best, on -0.05.
double slowing_on(double slope);

} // namespace routing::roads::foot
