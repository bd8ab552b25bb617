#pragma once
/// Villages: where they lie, and the crooked grid of streets each one has.
///
///     const auto villages = regions::found_villages(terrain);   // sites, levelled
///     regions::lay_streets(map, terrain, names, villages);

#include "regions/map_draft.hpp"
#include "regions/names.hpp"
#include "regions/terrain.hpp"

#include <map>
#include <string>
#include <utility>
#include <vector>

namespace regions {

/// Metres between columns and between rows of the grid, before the crooks.
inline constexpr double block_along = 92.0;
inline constexpr double block_across = 74.0;

/// Row 0 is the main street, positive rows lie inland, negative ones towards the sea; columns count along the main
/// street in the sense of the ring road (clockwise).
struct Village {
    std::string name;
    std::string kind; ///< place=*
    int population = 0;
    Spot centre;
    Spot along;  ///< unit vector of the main street
    Spot inland; ///< unit vector away from the sea
    int columns = 0;
    int rows_inland = 0;
    int rows_seaward = 0;
    bool on_ring = true;
    std::string uphill_class; ///< highway=* of the middle column, which leads on into the hills; empty: a street

    std::map<std::pair<int, int>, NodeId> corners; ///< (column, row)
    NodeId entry = 0;                              ///< main street, the end a clockwise traveller reaches first
    NodeId exit = 0;
    NodeId uphill_end = 0; ///< of the middle column
    NodeId sea_end = 0;    ///< of the middle column
    int middle() const { return columns / 2; }
};

/// The sites, clockwise from the north, the inland village last; each gets its pad of level ground.
std::vector<Village> found_villages(Terrain& terrain);

/// Streets of one village; fills `corners` and the four ends.
void lay_streets(MapDraft& map, const Terrain& terrain, NameBook& names, Village& village, std::uint64_t seed);

const Village& village_named(const std::vector<Village>& villages, std::string_view name);

} // namespace regions
