#pragma once
/// The quickest way on foot between a spot and the places where a van may stand.
///
///     const WalkFinder finder(paths, path_index);
///     const auto in = finder.walks(cove, {lay_by, car_park}, 30min);
///     if (in[1]) draw(in[1]->line);

#include "routing/roads/network.hpp"
#include "routing/roads/snap.hpp"

#include "geo/interval.hpp"

#include <optional>
#include <vector>

namespace routing::roads::foot {

struct Walk {
    Milliseconds time = 0; ///< at the network's pace
    geo::Metres length;
    std::vector<geo::Coordinate> line; ///< from the van to the spot, at least two points
};

/// From a place to the nearest paths, and between places this near, a walk may go straight over open ground, at 0.6 of
/// the pace (Tobler's factor off path). The figure is ours: farther off, what lies between is not known.
inline constexpr geo::Metres farthest_off_path{200.0};

/// Refers to network and index, which must outlive it.
class WalkFinder {
public:
    WalkFinder(const RoadNetwork& paths, const SnapIndex& index) : paths_(paths), index_(index) {}

    /// From each place of `from` to `spot`, beside it; nothing where the map knows no way within `limit` (time at the
    /// network's pace). A walk goes only where it can be walked back too, at the slower direction's time. One Dijkstra
    /// search from the spot, which stops at the limit.
    std::vector<std::optional<Walk>> walks(geo::Coordinate spot, const std::vector<geo::Coordinate>& from,
                                           geo::Seconds limit) const;

private:
    const RoadNetwork& paths_;
    const SnapIndex& index_;
};

} // namespace routing::roads::foot
