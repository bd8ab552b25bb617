#pragma once
/// A map ready to plan on: the road network for the crew's vehicle, an index to find roads, and the places to stop at.

#include "routing/places/place.hpp"
#include "routing/roads/hierarchy/hierarchy.hpp"
#include "routing/roads/network.hpp"
#include "routing/roads/snap.hpp"
#include "routing/shoot/foot_ways.hpp"

#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace routing::shoot {

struct Region {
    std::string file;                                  ///< for messages
    std::unique_ptr<const roads::RoadNetwork> network; ///< never null; at a fixed address, `index` refers to it
    std::unique_ptr<const FootWays> foot;              ///< never null: the ways on foot
    roads::hierarchy::Hierarchy hierarchy;             ///< of `network`
    roads::SnapIndex index;
    std::vector<places::Place> places;
    roads::ReadCounts read_counts;
    std::optional<roads::Box> box;
    std::string data_date;
    bool foot_has_hours = false; ///< some way on foot has hours or seasons of its own
    bool has_prepared = false;   ///< a prepared file that fits lies beside the extract
    std::string prepared_note; ///< what became of the prepared file: "read X", "made X: it was not there"; may be empty
};

/// Whether a prepared file beside the extract is read, and made where there is none that fits.
enum class Prepared { ignore, use };

/// Told, while a map is made ready, what is being done, and what share of the whole (0 to 1, about) was done before it.
/// Shares are those of a large extract; a small one is ready in no time.
using PrepareWatch = std::function<void(const std::string& stage, double share)>;

/// Reads an extract and prepares it for `vehicle`; with Prepared::use the same, value for value, from the prepared file
/// when that fits extract, road rules and vehicle. A prepared file that can't be written is no failure, the note says
/// so. Throws geo::InputError (missing, broken, empty, no drivable road).
/// `watch` is told nothing where the prepared file serves.
/// Several extracts are merged into one map (see merged_extracts.hpp).
Region load_region(const std::vector<std::string>& files, const roads::Vehicle& vehicle,
                   Prepared prepared = Prepared::ignore, const PrepareWatch& watch = {});
Region load_region(const std::string& file, const roads::Vehicle& vehicle, Prepared prepared = Prepared::ignore);

/// Where the prepared file of an extract lies: beside it, with a short key of the vehicle, so that vans don't take
/// turns overwriting each other's. "map.osm.pbf" gives "map.osm.pbf.1a2b3c4d.prepared".
/// Of several extracts it lies beside the first, and the key stands for the names of the others too.
std::filesystem::path prepared_path(const std::vector<std::string>& files, const roads::Vehicle& vehicle);
std::filesystem::path prepared_path(const std::string& file, const roads::Vehicle& vehicle);

/// A region from a prepared file alone, whatever extract and vehicle it was made for. Throws geo::InputError with the
/// reason when the file is not valid.
Region read_prepared(const std::string& prepared);

} // namespace routing::shoot
