#pragma once
/// The roads shut by the shoot file, by changes on the day and by the map's own hours and seasons, on one network: for
/// the whole plan or for a time.

#include "routing/roads/timed/shut_times.hpp"
#include "routing/shoot/region.hpp"
#include "routing/shoot/shoot.hpp"

#include <string>
#include <vector>

namespace routing::shoot {

struct ClosedRoads {
    roads::ClosedEdges edges;                      ///< shut for the whole plan; empty when none is
    std::vector<roads::timed::TimedClosure> timed; ///< shut for a part of it
    roads::ClosedEdges foot;                       ///< paths shut on foot, of Region::foot; empty when none is
    std::vector<std::string> descriptions;         ///< one for each closure: what it shuts, and when; then what the
                                                   ///< map's hours shut while the crew is at work
    bool any() const { return !descriptions.empty(); }
};

/// A closure that holds from the earliest call of the first day to the latest wrap of the last is one for the whole
/// plan. On foot one that holds for a part of it counts for all of it: walks are not reckoned by the hour. Throws
/// geo::InputError for every closure that matches no road, naming the nearest candidates. `extra` closures come from
/// the command line; the shoot's own come first. Roads with hours of their own (shut_by_hours.hpp) are shut as closures
/// are, by the hours between call and wrap of the shoot's days.
ClosedRoads close_roads(const Shoot& shoot, const std::vector<roads::Closure>& extra, const Region& region);

/// What is shut at one moment; empty when nothing is.
roads::ClosedEdges shut_at(const ClosedRoads& shut, Instant when, const roads::RoadNetwork& network);

/// What is shut for the whole plan or at some time; empty when nothing is.
roads::ClosedEdges ever_shut(const ClosedRoads& shut, const roads::RoadNetwork& network);

/// "2027-05-14 10:00 to 15:00", "from 2027-05-14 10:00", "until 2027-05-14 15:00"; "" without times.
std::string hours_text(const roads::Closure& closure, const geo::TimeZone& zone);

} // namespace routing::shoot
