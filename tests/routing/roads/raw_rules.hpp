#pragma once
/// Turn restrictions, barriers, one-way and access tags read from the raw extract a second time, by plain code of the
/// tests' own, for a car without stated size. Source: OSM wiki, Relation:restriction, Key:barrier, Key:oneway,
/// Key:access.

#include "turn_rules.hpp"

#include <optional>
#include <string>
#include <vector>

namespace support {

/// Throws std::logic_error for a restriction under a condition, which this reader does not know.
TurnRules raw_turn_rules(const routing::roads::OsmExtract& extract, const routing::roads::RoadNetwork& network);

/// What is wrong with the network's edges by their ways' plain tags: shapes that are no run of the way's nodes, open
/// directions against oneway=*, roads for no motor traffic, destination traffic not marked. Empty when nothing is.
std::vector<std::string> tag_faults(const routing::roads::OsmExtract& extract,
                                    const routing::roads::RoadNetwork& network);

} // namespace support
