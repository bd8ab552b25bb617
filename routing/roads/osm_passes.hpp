#pragma once
/// The passes over a map file that read_extract is made of: relations, then ways, then nodes.

#include "routing/roads/osm_extract.hpp"
#include "routing/roads/osm_file.hpp"

#include <cstdint>
#include <vector>

namespace routing::roads {

using Wanted = std::function<bool(const Tags&)>;

struct WantedArea {
    OsmObject object;
    std::vector<OsmId> outer; ///< ids of member ways
    std::vector<OsmId> inner;
    Tags tags;
};

struct RelationPass {
    std::vector<Restriction> restrictions; ///< sorted by id
    std::vector<WantedArea> areas;         ///< sorted by id
    std::vector<OsmId> member_ways;        ///< of the areas; sorted, each once
};

struct WayNodes {
    OsmId id = 0;
    std::vector<OsmId> nodes;
};

struct ClosedWay {
    OsmId id = 0;
    std::vector<OsmId> nodes;
    Tags tags;
};

struct WayPass {
    std::vector<RoadWay> roads;         ///< sorted by id
    std::vector<ClosedWay> closed_ways; ///< wanted as features; sorted by id
    std::vector<WayNodes> members;      ///< of wanted areas; sorted by id
};

struct NodePass {
    std::vector<OsmId> ids;              ///< that roads and outlines use; sorted, each once
    std::vector<geo::Coordinate> places; ///< beside `ids`
    std::vector<bool> found;             ///< beside `ids`: in the file, with a valid place
    std::vector<bool> on_road;           ///< beside `ids`
    std::vector<RoadNode> road_nodes;    ///< sorted by id
    std::vector<Feature> features;       ///< nodes only; sorted by id

    std::optional<geo::Coordinate> place_of(OsmId node) const;
};

RelationPass read_relations(const OsmFile& file, const Wanted& wanted, ReadCounts& counts);
WayPass read_ways(const OsmFile& file, const RelationPass& relations, const Wanted& wanted, ReadCounts& counts);
NodePass read_nodes(OsmFile& file, const WayPass& ways, const Wanted& wanted, ReadCounts& counts);

/// Nodes, closed ways and multipolygons with their outlines, sorted by (type, id).
std::vector<Feature> make_features(const RelationPass& relations, const WayPass& ways, const NodePass& nodes,
                                   ReadCounts& counts);
/// Fills the extract's node tables with the nodes that roads use, and counts references to missing ones.
void keep_road_nodes(const NodePass& nodes, OsmExtract& extract);

} // namespace routing::roads
