#include "map_shoot.hpp"

#include <algorithm>

using namespace routing::shoot;
using std::chrono::hours;
using std::chrono::minutes;

namespace map_shoot {

namespace {

int roll(std::mt19937& random, int low, int high) { // the same numbers with every library
    return low + static_cast<int>(random() % static_cast<unsigned>(high - low + 1));
}

/// A spot on a road one can drive to and leave again.
geo::Coordinate spot(const Region& region, std::mt19937& random) {
    for (;;) {
        const auto n = random() % region.network->edges.size();
        const auto& edge = region.network->edges[n];
        if (region.index.is_round_trip(routing::roads::EdgeIndex{static_cast<std::uint32_t>(n)}) &&
            !edge.destination_only)
            return region.network->shape_of(edge).front();
    }
}

geo::LightRequest light(std::mt19937& random) {
    switch (roll(random, 0, 4)) {
    case 0:
        return geo::LightName::golden_evening;
    case 1:
        return geo::LightName::sunrise;
    case 2:
        return geo::LightName::high_sun;
    default:
        const int from = roll(random, 5, 17);
        return geo::ClockRange{hours{from}, hours{from + roll(random, 1, 4)}};
    }
}

} // namespace

Shoot draw(const Region& region, std::mt19937& random, int scenes, int days) {
    Shoot shoot{.title = "Drawn", .zone_name = "UTC", .zone = geo::find_time_zone("UTC").value(), .file = "drawn.json"};
    shoot.crew.vehicle = {geo::Metres{2.5}, geo::Metres{2.0}, geo::Metres{5.5}, geo::Tonnes{3.0}, false};
    shoot.crew.turnaround = minutes{9 * 60};
    shoot.base = NamedPoint{"Base", spot(region, random)};
    for (int day = 0; day < days; ++day) {
        ShootDay wish;
        wish.date =
            geo::CivilDate{std::chrono::sys_days{geo::parse_date("2027-06-12").value()} + std::chrono::days{day}};
        wish.earliest_call = hours{4};
        wish.latest_wrap = hours{21};
        wish.start = day == 0 ? DayEdge::base : DayEdge::bed;
        wish.end = day + 1 == days ? DayEdge::base : DayEdge::bed;
        shoot.days.push_back(wish);
    }
    for (int n = 0; n < scenes; ++n) {
        Location location;
        location.id = "l" + std::to_string(n);
        location.name = "Location " + std::to_string(n);
        location.at = spot(region, random);
        location.setup = minutes{5 * roll(random, 0, 4)};
        location.pack = minutes{5 * roll(random, 0, 2)};
        shoot.locations.push_back(location);
        Scene scene;
        scene.id = "s" + std::to_string(n);
        scene.title = "Scene " + std::to_string(n);
        scene.must = roll(random, 0, 2) == 0;
        scene.worth = scene.must ? 0 : roll(random, 1, 100);
        SceneOption option;
        option.location = static_cast<std::uint32_t>(n);
        option.length = minutes{5 * roll(random, 3, 12)};
        option.light = {light(random)};
        scene.options = {option};
        shoot.scenes.push_back(scene);
    }
    MealWish lunch;
    lunch.name = "lunch";
    lunch.from = hours{11};
    lunch.until = hours{14};
    lunch.length = minutes{45};
    lunch.within_of_call = hours{6};
    lunch.kinds = {routing::places::PlaceKind::restaurant, routing::places::PlaceKind::cafe};
    shoot.meals = {lunch};
    Lodging beds;
    beds.kinds = {routing::places::PlaceKind::hotel, routing::places::PlaceKind::guest_house};
    shoot.lodging = beds;
    return shoot;
}

} // namespace map_shoot
