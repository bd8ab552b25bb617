#pragma once
/// Where the van may be left for a location, and the walk in from there.
///
///     ParkingFinder parking(region, shoot.crew, closed_edges);
///     for (const Parking& choice : parking.choices(location.at)) ...

#include "routing/roads/hierarchy/travel_table.hpp"
#include "routing/shoot/plan.hpp"
#include "routing/shoot/region.hpp"
#include "routing/shoot/shoot.hpp"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace routing::roads::foot {
class WalkFinder;
}

namespace routing::shoot {

struct Parking {
    roads::RoadPoint road;
    OnFoot walk;            ///< van to spot
    std::string name;       ///< of a car park on the map; empty for a place at the road
    bool estimated = false; ///< no path on the map leads there: 1.4 times the straight line
};

/// Straight distances below this are no walk.
inline constexpr geo::Metres no_walk_below{30.0};

/// 1.4 times the straight line at 4 km/h (planning figures of ours, no source); nothing below `no_walk_below`.
OnFoot estimated_walk(geo::Coordinate at, const roads::RoadPoint& road);

class ParkingFinder {
public:
    /// All three must outlive it.
    ParkingFinder(const Region& region, const Crew& crew, const roads::ClosedEdges& closed_edges);
    ~ParkingFinder();

    /// The walk from a place the crew chose. Estimated when no path leads there in the time the crew walks.
    Parking at(geo::Coordinate spot, const roads::RoadPoint& road);

    /// Up to four places to leave the van, quickest walk first; none when no way on foot that the map knows is short
    /// enough. Looked at: road edges and car parks near the spot, and the places where a walk leaves the road. Left
    /// out: shut roads, ferries, tunnels and bridges, motorways; and every place from where driving on to another
    /// choice and walking from there takes no longer, in and out. A car park beats a road edge whose walk saves less
    /// than two minutes (ours).
    std::vector<Parking> choices(geo::Coordinate spot);

private:
    struct Candidate;
    const roads::foot::WalkFinder& walks();
    std::vector<Candidate> candidates_near(geo::Coordinate spot) const;
    void add_where_path_begins(std::vector<Candidate>& found, geo::Coordinate spot);
    bool may_stop(const roads::RoadPoint& road) const;

    const Region& region_;
    const Crew& crew_;
    const roads::ClosedEdges& closed_edges_;
    std::unique_ptr<const roads::SnapIndex> paths_; ///< made when first asked for
    std::unique_ptr<const roads::foot::WalkFinder> walks_;
    std::unique_ptr<const roads::hierarchy::Metric> metric_;
};

} // namespace routing::shoot
