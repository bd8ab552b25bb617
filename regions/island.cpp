#include "regions/island.hpp"

#include "regions/junctions.hpp"
#include "regions/landmarks.hpp"
#include "regions/names.hpp"
#include "regions/places.hpp"
#include "regions/roads.hpp"
#include "regions/traffic.hpp"
#include "regions/village.hpp"

namespace regions {

Island make_island() {
    Island island;
    NameBook names{11};
    std::vector<Village> villages = found_villages(island.terrain);
    draw_coast(island.map, island.terrain);
    std::uint64_t seed = 100;
    for (Village& village : villages)
        lay_streets(island.map, island.terrain, names, village, seed++);
    lay_roads(island.map, island.terrain, names, villages);
    set_landmarks(island.map, island.terrain, villages);
    build_roundabouts(island.map, villages);
    tie_crossings(island.map);
    span_streams(island.map);
    put_up_signs(island.map, island.terrain);
    restrict_turns(island.map, villages);
    settle_places(island.map, island.terrain, names, villages);
    leave_defects(island.map, villages);
    island.map.drop_unused_nodes();
    return island;
}

} // namespace regions
