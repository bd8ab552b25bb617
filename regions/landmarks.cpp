#include "regions/landmarks.hpp"

#include "regions/by_roads.hpp"
#include "regions/coast.hpp"

#include <algorithm>
#include <string>

namespace regions {

void draw_coast(MapDraft& map, const Terrain& terrain) {
    const std::vector<Line> rings = trace_coast(terrain);
    for (std::size_t i = 0; i < rings.size(); ++i) {
        std::vector<NodeId> nodes;
        for (std::size_t k = 0; k + 1 < rings[i].size(); ++k)
            nodes.push_back(map.add_node(rings[i][k]));
        nodes.push_back(nodes.front());
        // The main island's shore is long: a way may hold 2,000 nodes, and mappers cut much earlier.
        constexpr std::size_t longest = 450;
        std::vector<Member> members;
        for (std::size_t begin = 0; begin + 1 < nodes.size(); begin += longest) {
            const std::size_t end = std::min(begin + longest, nodes.size() - 1);
            const WayId piece = map.add_way({nodes.begin() + static_cast<std::ptrdiff_t>(begin),
                                             nodes.begin() + static_cast<std::ptrdiff_t>(end) + 1},
                                            {{"natural", "coastline"}});
            members.push_back({'w', piece, "outer"});
        }
        if (i == 0)
            map.add_relation(std::move(members), {{"type", "multipolygon"}, {"place", "island"}, {"name", "Ondrel"}});
        else if (i == 1)
            map.way(members.front().id).tags.insert({{"place", "islet"}, {"name", "Ilvet"}});
    }
}

void set_landmarks(MapDraft& map, const Terrain& terrain, const std::vector<Village>& villages) {
    const SightSpots sights = sight_spots(terrain);
    for (const Summit& summit : terrain.summits())
        map.add_node(summit.at, {{"natural", "peak"},
                                 {"name", std::string(summit.name)},
                                 {"ele", std::to_string(static_cast<int>(summit.height + 0.5))}});
    map.add_node(sights.cove, {{"natural", "beach"}, {"name", "Perrun Cove"}, {"surface", "sand"}});
    map.add_node(sights.arch, {{"natural", "arch"}, {"name", "Dremm Arch"}});
    map.add_node(sights.lighthouse, {{"man_made", "lighthouse"}, {"name", "Lampra Ilvet"}, {"height", "21"}});
    map.add_node(sights.moor, {{"natural", "moor"}, {"name", "Weskan Moor"}});
    map.add_node(sights.chapel, {{"historic", "wayside_chapel"}, {"name", "Velum"}});
    map.add_node(sights.bird_cliff, {{"tourism", "viewpoint"}, {"name", "Gull Stair"}});
    map.add_node(sights.ruin, {{"historic", "ruins"}, {"name", "Old Haspe"}});
    map.add_node(sights.tarn, {{"natural", "water"}, {"name", "Ruvane Tarn"}});

    std::vector<NodeId> pit;
    for (const Spot off : {Spot{-210, -40}, {-120, -190}, {60, -230}, {190, -110}, {150, 40}, {-60, 70}})
        pit.push_back(map.add_node(sights.quarry + off));
    pit.push_back(pit.front());
    map.add_way(pit, {{"landuse", "quarry"}, {"name", "Fauldrim Quarry"}, {"resource", "basalt"}, {"disused", "yes"}});

    // The town's square: an area to walk across, sharing the corners of the streets around it.
    const Village& town = village_named(villages, "Harrobel");
    const auto corner = [&](int column, int row) { return town.corners.at({column, row}); };
    const std::vector<NodeId> square{corner(3, -2), corner(4, -2), corner(4, -1), corner(3, -1), corner(3, -2)};
    map.add_way(square, {{"highway", "pedestrian"}, {"area", "yes"}, {"name", "Oru Merkass"}, {"surface", "sett"}});
    const Spot middle = between(map.node(square[0]).at, map.node(square[2]).at, 0.5);
    map.add_node(middle, {{"amenity", "marketplace"}, {"name", "Merkass Hall"}, {"opening_hours", "Fr 08:00-13:00"}});

    // Harbours: a quay and a mole each.
    for (const std::string_view name : {"Harrobel", "Morvane", "Lundeck"}) {
        const Village& village = village_named(villages, name);
        const Spot seaward = -1.0 * village.inland;
        Spot shore = map.node(village.sea_end).at;
        while (terrain.is_land(shore))
            shore = shore + 10.0 * seaward;
        const Spot quay = shore - 12.0 * seaward;
        const NodeId end = map.add_node(quay, {{"name", std::string(name) + " Harbour"}, {"harbour", "yes"}});
        map.add_way({village.sea_end, end},
                    {{"highway", "service"}, {"name", "Ask " + std::string(name) + " Quay"}, {"surface", "concrete"}});
        const NodeId head = map.add_node(shore + 130.0 * seaward + 40.0 * village.along);
        map.add_way({end, map.add_node(shore + 60.0 * seaward), head},
                    {{"man_made", "breakwater"}, {"name", std::string(name) + " Mole"}});
    }
}

} // namespace regions
