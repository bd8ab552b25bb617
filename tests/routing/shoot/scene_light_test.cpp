#include "routing/shoot/scene_light.hpp"

#include <doctest/doctest.h>

using namespace routing::shoot;
using namespace geo::literals;
using namespace std::chrono_literals;

namespace {

Shoot shoot_at(geo::Coordinate place) {
    Shoot shoot{.zone = *geo::find_time_zone("Europe/Vaduz")};
    shoot.locations.push_back({.id = "arch", .at = place});
    return shoot;
}

ShootDay long_day() {
    return {.date = *geo::parse_date("2026-09-04"), .earliest_call = 4h, .latest_wrap = 23h};
}

} // namespace

TEST_CASE("soft light lasts all day where the scene suits closed skies only") {
    const Shoot shoot = shoot_at({47_deg, 9.5_deg});
    SceneOption option{.light = {geo::LightName::soft}};
    CHECK(light_in_day(shoot, option, long_day()).size() == 2); // dawn and dusk
    option.sky = {"overcast", "rain"};
    const auto cloudy = light_in_day(shoot, option, long_day());
    REQUIRE(cloudy.size() == 1);
    CHECK(cloudy[0].length() > 13h);
    option.sky = {"overcast", "broken"};
    CHECK(light_in_day(shoot, option, long_day()).size() == 2);
    CHECK(!surroundings_of(shoot, option, long_day().date).overcast);
}

TEST_CASE("a sky the crew tells decides what can be shot, on its day") {
    Shoot shoot = shoot_at({47_deg, 9.5_deg});
    SceneOption soft{.light = {geo::LightName::soft}};
    const SceneOption sunset{.light = {geo::LightName::sunset}};
    shoot.told_sky = ToldSky{"overcast", {}};
    CHECK(light_in_day(shoot, soft, long_day()).size() == 1); // all day
    CHECK(light_in_day(shoot, sunset, long_day()).empty());   // no sun comes through
    soft.sky = {"rain", "fog"};
    CHECK(light_in_day(shoot, soft, long_day()).empty());
    shoot.told_sky->sky = "fog";
    CHECK(light_in_day(shoot, soft, long_day()).size() == 1);
    // A clear day has soft light at dawn and dusk only, also for a scene that would rather have clouds.
    soft.sky = {};
    shoot.told_sky->sky = "clear";
    CHECK(light_in_day(shoot, soft, long_day()).size() == 2);
    CHECK(light_in_day(shoot, sunset, long_day()).size() == 1);
    soft.sky = {"overcast"};
    shoot.told_sky->on = geo::next_date(long_day().date);
    CHECK(light_in_day(shoot, soft, long_day()).size() == 1); // told for another day
}

TEST_CASE("a scene's camera decides when it can be shot") {
    const Shoot shoot = shoot_at({47_deg, 9.5_deg});
    const auto spans = [&](geo::SunSide side) {
        const geo::LightWish wish{.name = geo::LightName::day, .direction = geo::SunBeside{270_deg, side}};
        return light_in_day(shoot, {.light = {wish}}, long_day());
    };
    const auto behind = spans(geo::SunSide::behind);
    const auto front = spans(geo::SunSide::front);
    REQUIRE(behind.size() == 1);
    REQUIRE(front.size() == 1);
    CHECK(front[0].until < behind[0].from); // to the west: lit from the front in the morning, backlit in the evening
    const StopLight light =
        light_of(shoot, {.light = {geo::LightWish{.name = geo::LightName::day, .direction = geo::SunBeside{270_deg}}}},
                 long_day(), behind[0].from, behind[0].from + 30min);
    CHECK(light.window == behind[0]);
    CHECK(light.name == "day, sun behind the subject (camera to 270°)");
}
