#include "routing/shoot/ground.hpp"

#include "geo/input_error.hpp"
#include "geo/terrain/direct_sun.hpp"
#include "geo/terrain/horizon_cache.hpp"

#include <cmath>
#include <cstdio>

namespace routing::shoot {

namespace {

/// Ridges farther off than this rarely take more than a minute of sun; a figure of ours.
constexpr geo::Metres far_enough{15'000.0};

std::string kilometres(geo::Metres length) {
    char text[32];
    std::snprintf(text, sizeof text, "%.0f km", std::floor(length.value / 1000.0));
    return text;
}

} // namespace

void find_horizons(Shoot& shoot, Prepared prepared) {
    if (shoot.terrain.empty())
        return;
    std::optional<std::filesystem::path> folder;
    if (prepared == Prepared::use && !shoot.regions.empty())
        folder = shoot.regions.front() + ".horizons";
    shoot.ground = std::make_shared<geo::terrain::HorizonCache>(
        std::vector<std::filesystem::path>{shoot.terrain.begin(), shoot.terrain.end()}, folder);
    geo::terrain::HorizonCache& horizons = *shoot.ground;
    for (Location& location : shoot.locations) {
        auto horizon = horizons.at(location.at);
        if (!horizon) {
            shoot.warnings.push_back(location.name +
                                     ": no elevation tile knows the ground there: its light is for a flat horizon");
            continue;
        }
        if (const geo::Metres known = horizon->known_all_round(); known < far_enough)
            shoot.warnings.push_back(location.name + ": the ground is known to " + kilometres(known) +
                                     " all round: a ridge beyond may hide the sun sooner");
        location.horizon = std::make_shared<const geo::terrain::HorizonProfile>(std::move(*horizon));
    }
    if (!horizons.trouble().empty())
        shoot.warnings.push_back("horizons could not be kept for the next time: " + horizons.trouble());
}

geo::Surroundings surroundings_of(const Location& location) {
    return surroundings_of(location.at, location.horizon);
}

geo::Surroundings surroundings_of(geo::Coordinate at, std::shared_ptr<const geo::terrain::HorizonProfile> horizon) {
    geo::Surroundings around;
    if (horizon)
        around.direct_sun = [at, horizon = std::move(horizon)](geo::Interval span) {
            return geo::terrain::direct_sun(at, *horizon, span).direct;
        };
    return around;
}

} // namespace routing::shoot
