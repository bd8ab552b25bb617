#pragma once
/// What `dayweave check` finds on the map, and what it tells about a sound shoot.

#include "routing/shoot/region.hpp"
#include "routing/shoot/shoot.hpp"
#include "routing/shoot/stop_points.hpp"

#include <string>
#include <vector>

namespace cli {

/// A shoot on its map: places with their roads, and what each closure shuts.
struct MapCheck {
    routing::shoot::StopPoints points;
    std::vector<std::string> closures;
};

/// Throws geo::InputError with every place too far from a road, every walk too long, and every closure that matches
/// nothing.
MapCheck check_map(const routing::shoot::Shoot& shoot, const routing::shoot::Region& region);

/// Counts, the distance of each location from a road, and the light windows of each option on each day, closures.
std::string check_report(const routing::shoot::Shoot& shoot, const MapCheck& map);

/// "19:41–20:33"; "never"; "never within working hours"; "19:41–19:50 (too short)".
std::string option_windows_text(const routing::shoot::Shoot& shoot, const routing::shoot::SceneOption& option,
                                const routing::shoot::ShootDay& day);

} // namespace cli
