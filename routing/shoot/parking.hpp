#pragma once
/// Where the van may be left for a location, and the walk in from there.
///
///     ParkingFinder parking(region, shoot.crew, shut);
///     for (const StopPoint& choice : parking.choices(location.at)) ...

#include "routing/roads/hierarchy/travel_table.hpp"
#include "routing/shoot/closed_roads.hpp"
#include "routing/shoot/plan.hpp"
#include "routing/shoot/region.hpp"
#include "routing/shoot/shoot.hpp"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace routing::roads::foot {
class SlopePace;
class WalkFinder;
struct Walk;
} // namespace routing::roads::foot

namespace routing::shoot {

/// A spot, and where the van stands for it.
struct StopPoint {
    geo::Coordinate at;
    roads::RoadPoint road;
    OnFoot walk{};          ///< van to spot, one way
    Seconds walk_back{0};   ///< spot to van, by the same way
    std::string car_park{}; ///< its name; empty for a place beside the road
    bool estimated = false; ///< the walk is reckoned from the straight line
    bool cut_off = false;   ///< closures on foot leave no way that the crew walks
};

/// Straight distances below this are no walk.
inline constexpr geo::Metres no_walk_below{30.0};

/// The walk is 1.4 times the straight line at 4 km/h (planning figures of ours, no source); none below `no_walk_below`.
StopPoint with_estimated_walk(geo::Coordinate at, roads::RoadPoint road);

class ParkingFinder {
public:
    /// The first three must outlive it. With `ground` walks are reckoned by its slopes, else as level.
    ParkingFinder(const Region& region, const Crew& crew, const ClosedRoads& shut,
                  std::shared_ptr<geo::terrain::HorizonCache> ground = nullptr);
    ~ParkingFinder();

    /// The van on a road chosen otherwise. The walk may be longer than the crew walks; where the map knows none within
    /// six hours it is estimated; unless that is because of closures, then it is cut off.
    StopPoint stopping_at(const roads::RoadPoint& road, geo::Coordinate spot);

    /// Up to four places to leave the van, quickest walk first; none when no way on foot that the map knows is short
    /// enough. Looked at: road edges and car parks near the spot, and the places where a walk leaves the road. Left
    /// out: shut roads, ferries, tunnels and bridges, motorways; and every place from where driving on to another
    /// choice and walking from there takes no longer, in and out. A car park beats a road edge whose walk saves less
    /// than two minutes (ours).
    std::vector<StopPoint> choices(geo::Coordinate spot);

private:
    struct Candidate;
    roads::foot::WalkFinder& walks();
    std::vector<Candidate> candidates_near(geo::Coordinate spot) const;
    void add_where_path_begins(std::vector<Candidate>& found, geo::Coordinate spot);
    bool may_stop(const roads::RoadPoint& road) const;
    StopPoint stop_with(geo::Coordinate spot, const roads::RoadPoint& road, const roads::foot::Walk& walk) const;

    const Region& region_;
    const Crew& crew_;
    const ClosedRoads& shut_;
    std::shared_ptr<geo::terrain::HorizonCache> ground_;
    std::unique_ptr<roads::foot::SlopePace> slopes_;
    std::unique_ptr<roads::foot::WalkFinder> walks_;
    std::unique_ptr<const roads::hierarchy::Metric> metric_;
};

} // namespace routing::shoot
