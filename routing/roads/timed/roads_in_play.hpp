#pragma once
/// Which of the roads ever shut can matter to legs between some stops, at any hour; of a state's roads with hours a
/// few.
///
///     const std::vector<EdgeIndex> few = roads_in_play(metric, shut, stops, stops, 400);
///
/// Those on the quickest ways between the stops; then those on the quickest ways while these are shut, between the
/// stops and the ends of these; and so on, until shutting all the others as well makes no way longer. Exact: a way at
/// any hour is cut by the roads in play into stretches that avoid them, and each stretch takes at least what it takes
/// with every other road open, which is what it takes with all of them shut. So the others count as shut for good.

#include "routing/roads/hierarchy/travel_table.hpp"
#include "routing/roads/timed/shut_times.hpp"

#include <cstddef>
#include <vector>

namespace routing::roads::timed {

/// By rising index. The roads that stops stand on are among them. Destination-only roads around no stop are not, since
/// nobody drives there; with others, or when more than `most_arcs` arcs are in play, it gives all that may be driven.
/// The metric is as before when this is done. Cost: a few rounds, each of tables of stops by roads ever shut.
std::vector<EdgeIndex> roads_in_play(hierarchy::Metric& metric, const ShutTimes& shut,
                                     const std::vector<RoadPoint>& sources, const std::vector<RoadPoint>& targets,
                                     std::size_t most_arcs);

} // namespace routing::roads::timed
