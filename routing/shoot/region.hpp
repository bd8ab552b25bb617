#pragma once
/// A map ready to plan on: the road network for the crew's vehicle, an index to find roads, and the places to stop at.

#include "routing/places/place.hpp"
#include "routing/roads/hierarchy/hierarchy.hpp"
#include "routing/roads/network.hpp"
#include "routing/roads/snap.hpp"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace routing::shoot {

struct Region {
    std::string file;                                  ///< for messages
    std::unique_ptr<const roads::RoadNetwork> network; ///< never null; at a fixed address, `index` refers to it
    roads::hierarchy::Hierarchy hierarchy;             ///< of `network`
    roads::SnapIndex index;
    std::vector<places::Place> places;
    roads::ReadCounts read_counts;
    std::optional<roads::Box> box;
    std::string data_date;
};

/// Reads an extract and prepares it for `vehicle`. Throws geo::InputError (missing, broken, empty, no drivable road).
Region load_region(const std::string& file, const roads::Vehicle& vehicle);

} // namespace routing::shoot
