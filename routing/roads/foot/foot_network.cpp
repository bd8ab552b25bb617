#include "routing/roads/foot/foot_network.hpp"

#include "routing/roads/foot/foot_rules.hpp"
#include "routing/roads/foot/squares.hpp"
#include "routing/roads/network_assembly.hpp"
#include "routing/roads/road_pieces.hpp"

namespace routing::roads::foot {
namespace {

std::vector<WayRuling> rule_ways(const OsmExtract& extract, BuildCounts& counts) {
    std::vector<WayRuling> rulings;
    rulings.reserve(extract.roads.size());
    for (const RoadWay& way : extract.roads) {
        Remarks remarks;
        rulings.push_back(rule_way_on_foot(way.tags, remarks));
        for (const std::string_view remark : remarks)
            ++counts[std::string{remark}];
        if (rulings.back().drivable())
            ++counts["ways open to walkers"];
    }
    return rulings;
}

} // namespace

RoadNetwork build_foot_network(const OsmExtract& extract) {
    RoadNetwork network;
    const std::vector<WayRuling> rulings = rule_ways(extract, network.counts);
    RoadPieces pieces = cut_roads(extract, rulings, rule_node_on_foot, network.counts);
    add_square_links(extract, rulings, pieces, network.counts);
    assemble_network(extract, pieces, {}, network);
    return network;
}

} // namespace routing::roads::foot
