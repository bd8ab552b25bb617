#pragma once
/// The roads that hours, dates and seasons of the map shut while a shoot is at work.
///
///     const ShutByHours shut = shut_by_hours(*region.network, working, shoot);
///     shut.throughout   // shut whenever the crew may be on the road
///     shut.timed        // shut for a part of it

#include "geo/interval.hpp"
#include "geo/local_time.hpp"
#include "routing/roads/network.hpp"
#include "routing/roads/timed/shut_times.hpp"

#include "routing/shoot/shoot.hpp"

#include <vector>

namespace routing::shoot {

struct ShutByHours {
    std::vector<roads::EdgeIndex> throughout;
    std::vector<roads::timed::TimedClosure> timed; ///< no edge of `throughout` is in it
    std::size_t unsure_roads = 0;                  ///< ways shut in hours when nobody knows whether they are
};

/// `working`: the hours the crew may be on the road, in order; not empty. What a rule says between and around them
/// (a day on either side) is told too, so that "shut until 09:00" is the rule's own word; beyond that a road stays as
/// it was. Each rule is judged once, by the shoot's clock and holidays; one of the sun or the seasons once for each
/// tenth of a degree. O(rules × days + roads).
ShutByHours shut_by_hours(const roads::RoadNetwork& network, const geo::Intervals& working, const Shoot& shoot);

} // namespace routing::shoot
