// How build_network works, in order:
//
// 1. rule each way for the vehicle (way_rules);
// 2. cut the open ways into pieces between junctions, with the rules for nodes (road_pieces, node_rules);
// 3. turn restrictions into forbidden sequences of pieces (turn_bans);
// 4. split the junctions those end at (turn_states);
// 5. number nodes along a space-filling curve, edges by where they begin, lay out the arcs and find the strong
//    components (network_assembly).

#include "routing/roads/network.hpp"

#include "routing/roads/network_assembly.hpp"
#include "routing/roads/road_pieces.hpp"
#include "routing/roads/turn_bans.hpp"
#include "routing/roads/way_rules.hpp"

namespace routing::roads {
namespace {

std::vector<WayRuling> rule_ways(const OsmExtract& extract, const Vehicle& vehicle, BuildCounts& counts) {
    std::vector<WayRuling> rulings;
    rulings.reserve(extract.roads.size());
    for (const RoadWay& way : extract.roads) {
        Remarks remarks;
        rulings.push_back(rule_way(way.tags, vehicle, remarks));
        for (const std::string_view remark : remarks)
            ++counts[std::string{remark}];
        if (rulings.back().drivable())
            ++counts[rulings.back().ferry ? "ferries that carry the van" : "ways the van may use"];
    }
    return rulings;
}

} // namespace

RoadNetwork build_network(const OsmExtract& extract, const Vehicle& vehicle) {
    RoadNetwork network;
    const std::vector<WayRuling> rulings = rule_ways(extract, vehicle, network.counts);
    const auto rule_for_van = [&](const Tags& tags, Remarks& remarks) { return rule_node(tags, vehicle, remarks); };
    const RoadPieces roads = cut_roads(extract, rulings, rule_for_van, network.counts);
    assemble_network(extract, roads, find_turn_bans(extract, roads, vehicle, network.counts), network);
    return network;
}

} // namespace routing::roads
