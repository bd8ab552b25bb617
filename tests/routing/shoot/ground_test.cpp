#include "routing/shoot/ground.hpp"

#include "geo/input_error.hpp"
#include "geo/terrain/horizon.hpp"
#include "routing/shoot/planner.hpp"
#include "routing/shoot/scene_light.hpp"
#include "small_world.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <unistd.h>

using namespace routing::shoot;
using std::chrono::hours;
using std::chrono::minutes;

namespace {

const std::string island = DAYWEAVE_SOURCE_DIR "/regions/ondrel/";

/// A scene at the equator on the day of the equinox: the sun climbs 15 degrees an hour, straight up.
Shoot behind_ridge(double ridge, geo::LightRequest light) {
    Shoot shoot = small_world::empty_shoot();
    small_world::add_scene(shoot, "a", 5, 10, std::move(light));
    shoot.locations[0].horizon =
        std::make_shared<const geo::terrain::HorizonProfile>(geo::terrain::HorizonProfile::level(geo::Degrees{ridge}));
    return shoot;
}

geo::Intervals windows(const Shoot& shoot) {
    return light_in_day(shoot, shoot.scenes[0].options[0], shoot.days[0]);
}

bool is_near(geo::Seconds a, geo::Seconds b) {
    return a - b < minutes{1} && b - a < minutes{1};
}

} // namespace

TEST_CASE("a ridge puts off the first sun and ends the last, by four minutes a degree at the equator") {
    const geo::LightRequest direct = geo::LightName::direct_sun;
    const geo::Intervals flat = windows(behind_ridge(-0.6, direct)); // the sun's upper limb, lifted by the air
    const geo::Intervals ridge = windows(behind_ridge(14.4, direct));
    REQUIRE(flat.size() == 1);
    REQUIRE(ridge.size() == 1);
    CHECK(ridge[0].from - flat[0].from > minutes{59});
    CHECK(ridge[0].from - flat[0].from < minutes{64});
    const geo::Intervals shade = windows(behind_ridge(14.4, geo::LightName::open_shade));
    REQUIRE(shade.size() == 2);
    CHECK(is_near(shade[0].until - ridge[0].from, geo::Seconds{0}));
    CHECK(is_near(shade[1].from - ridge[0].until, geo::Seconds{0}));
}

TEST_CASE("lights that are the sun itself lose what the ground hides, light of the sky does not") {
    const auto length = [](const geo::Intervals& spans) {
        geo::Seconds sum{0};
        for (const geo::Interval& span : spans)
            sum += span.length();
        return sum;
    };
    for (const geo::LightName name : {geo::LightName::sunrise, geo::LightName::sunset, geo::LightName::low_sun}) {
        const geo::Seconds flat = length(windows(behind_ridge(-0.6, name)));
        CHECK(length(windows(behind_ridge(3.0, name))) <= flat);
        CHECK(windows(behind_ridge(25.0, name)).empty());
        CHECK(flat > minutes{20});
    }
    CHECK(length(windows(behind_ridge(3.0, geo::LightName::sunrise))) <
          length(windows(behind_ridge(-0.6, geo::LightName::sunrise))));
    for (const geo::LightName name :
         {geo::LightName::golden_evening, geo::LightName::blue_morning, geo::LightName::soft})
        CHECK(windows(behind_ridge(25.0, name)) == windows(behind_ridge(-0.6, name)));
}

TEST_CASE("a scene the ground takes the sun from is told so, and one it leaves no light is left out with the reason") {
    Shoot shoot = behind_ridge(10.0, small_world::clock(7, 8));
    const SceneOption& option = shoot.scenes[0].options[0];
    const auto note = [&](int from_hour, int from_minute, int until_hour, int until_minute) {
        return ground_note(shoot, option, small_world::at_clock(shoot, from_hour, from_minute),
                           small_world::at_clock(shoot, until_hour, until_minute));
    };
    // Ten degrees are 40 minutes of sun; sunrise is near 06:05.
    CHECK(note(6, 15, 6, 35) == "the sun is behind the ground");
    CHECK(note(6, 30, 7, 30).starts_with("the sun comes over the ground at 06:4"));
    CHECK(note(17, 0, 18, 0).starts_with("the sun goes behind the ground at 17:29")); // true noon is at 12:07:31
    CHECK(note(12, 0, 13, 0).empty());
    CHECK(note(2, 0, 3, 0).empty()); // night is no shade
    shoot.locations[0].horizon = nullptr;
    CHECK(note(6, 15, 6, 35).empty());

    const Plan hidden = plan_shoot(behind_ridge(25.0, geo::LightName::sunrise), small_world::region(), {});
    CHECK(hidden.result == PlanResult::partial);
    CHECK(small_world::says(hidden.dropped.at(0).why, "sunrise never comes at Spot a, the ground looked at"));
}

TEST_CASE("the island's tile gives its places their horizons, kept for the next time") {
    Shoot shoot = small_world::empty_shoot();
    small_world::add_scene(shoot, "quarry", 0, 10, geo::LightName::any);
    small_world::add_scene(shoot, "elsewhere", 0, 10, geo::LightName::any);
    shoot.locations[0].at = {geo::Degrees{46.53922}, geo::Degrees{-27.58155}};
    shoot.locations[1].at = {geo::Degrees{40.0}, geo::Degrees{-27.5}};
    shoot.terrain = {island + "N46W028.hgt"};
    const auto folder = std::filesystem::temp_directory_path() / ("ground_" + std::to_string(::getpid()));
    shoot.regions = {(folder / "map.osm.pbf").string()};
    std::filesystem::create_directories(folder);
    find_horizons(shoot, Prepared::use);
    REQUIRE(shoot.locations[0].horizon);
    CHECK_FALSE(shoot.locations[1].horizon);
    double highest = 0.0;
    for (const auto& point : shoot.locations[0].horizon->points())
        highest = std::max(highest, point.angle.value);
    CHECK(highest > 1.0); // hills stand round it
    CHECK(std::any_of(shoot.warnings.begin(), shoot.warnings.end(), [](const std::string& warning) {
        return small_world::holds(warning, "Spot elsewhere: no elevation tile knows the ground there");
    }));
    CHECK_FALSE(std::filesystem::is_empty(folder / "map.osm.pbf.horizons"));
    const auto first = shoot.locations[0].horizon;
    find_horizons(shoot, Prepared::use);
    CHECK(shoot.locations[0].horizon->points() == first->points());
    std::filesystem::remove_all(folder);
    find_horizons(shoot, Prepared::ignore);
    CHECK_FALSE(std::filesystem::exists(folder));
    shoot.terrain = {island + "none.hgt"};
    CHECK_THROWS_AS(find_horizons(shoot, Prepared::ignore), geo::InputError);
}
