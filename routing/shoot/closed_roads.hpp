#pragma once
/// The roads shut by the shoot file and by changes on the day, on one network: for the whole plan or for a time.

#include "routing/roads/timed/shut_times.hpp"
#include "routing/shoot/region.hpp"
#include "routing/shoot/shoot.hpp"

#include <string>
#include <vector>

namespace routing::shoot {

struct ClosedRoads {
    roads::ClosedEdges edges;                      ///< shut for the whole plan; empty when none is
    std::vector<roads::timed::TimedClosure> timed; ///< shut for a part of it
    std::vector<std::string> descriptions;         ///< one for each closure: what it shuts, and when
    bool any() const { return !descriptions.empty(); }
};

/// A closure that holds from the earliest call of the first day to the latest wrap of the last is one for the whole
/// plan. Throws geo::InputError for every closure that matches no road, naming the nearest candidates.
/// `extra` closures come from the command line; the shoot's own come first.
ClosedRoads close_roads(const Shoot& shoot, const std::vector<roads::Closure>& extra, const Region& region);

/// What is shut at one moment; empty when nothing is.
roads::ClosedEdges shut_at(const ClosedRoads& shut, Instant when, const roads::RoadNetwork& network);

/// What is shut for the whole plan or at some time; empty when nothing is.
roads::ClosedEdges ever_shut(const ClosedRoads& shut, const roads::RoadNetwork& network);

/// "2027-05-14 10:00 to 15:00", "from 2027-05-14 10:00", "until 2027-05-14 15:00"; "" without times.
std::string hours_text(const roads::Closure& closure, const geo::TimeZone& zone);

} // namespace routing::shoot
