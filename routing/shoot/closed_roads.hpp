#pragma once
/// The roads shut by the shoot file and by changes on the day, on one network.

#include "routing/shoot/region.hpp"
#include "routing/shoot/shoot.hpp"

#include <string>
#include <vector>

namespace routing::shoot {

struct ClosedRoads {
    roads::ClosedEdges edges;              ///< empty when nothing is shut
    std::vector<std::string> descriptions; ///< one for each closure: what it shut
    bool any() const { return !descriptions.empty(); }
};

/// Throws geo::InputError for every closure that matches no road, naming the nearest candidates.
/// `extra` closures come from the command line; the shoot's own come first.
ClosedRoads close_roads(const Shoot& shoot, const std::vector<roads::Closure>& extra, const Region& region);

} // namespace routing::shoot
