/// Meals at places that are open.

#include "both_judges.hpp"
#include "small_world.hpp"

#include "routing/shoot/meal_places.hpp"
#include "routing/shoot/planner.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace routing::shoot;
using small_world::add_scene;
using small_world::at_clock;
using small_world::at_km;
using small_world::clock;
using std::chrono::hours;
using std::chrono::minutes;

namespace {

struct Cafe {
    double km = 0.0;
    std::string opening_hours;
};

/// The small world with these cafés instead of its own, named by their number.
Region with_cafes(const std::vector<Cafe>& cafes) {
    Region region = small_world::load();
    std::erase_if(region.places, [](const auto& place) { return place.kind == routing::places::PlaceKind::cafe; });
    for (std::size_t n = 0; n < cafes.size(); ++n) {
        routing::places::Place place;
        place.object = {routing::roads::OsmType::node, static_cast<std::int64_t>(1000 + n)};
        place.kind = routing::places::PlaceKind::cafe;
        place.name = "cafe " + std::to_string(n);
        place.at = at_km(cafes[n].km);
        place.opening_hours = cafes[n].opening_hours;
        region.places.push_back(place);
    }
    return region;
}

/// Scenes at km 10 from ten to eleven and at km 20 from three to four, lunch between half past eleven and two.
Shoot lunch_day() {
    Shoot shoot = small_world::empty_shoot();
    add_scene(shoot, "am", 10, 60, clock(10, 11));
    add_scene(shoot, "pm", 20, 60, clock(15, 16));
    shoot.meals = {small_world::lunch(hours{11} + minutes{30}, hours{14})};
    return shoot;
}

const PlanStop* meal_of(const Plan& plan, std::size_t day = 0) {
    for (const PlanStop& stop : plan.days[day].stops)
        if (stop.kind == PlanStopKind::meal)
            return &stop;
    return nullptr;
}

Plan plan_with(const Shoot& shoot, const Region& region) {
    const Plan made = plan_shoot(shoot, region, {});
    for (const std::string& fault : faults_by_both(made, shoot, region))
        FAIL_CHECK(fault);
    CHECK(made.proven);
    return made;
}

} // namespace

TEST_CASE("a closed place is passed by for an open one farther off, whole meal inside its hours") {
    const Region region = with_cafes({{15, "Mo-Fr 11:00-18:00"}, {23, "Sa 12:30-13:30"}, {16, "Sa 13:30-20:00"}});
    const Shoot shoot = lunch_day(); // a Saturday
    const Plan made = plan_with(shoot, region);
    REQUIRE(meal_of(made));
    CHECK(meal_of(made)->name == "cafe 1");
    CHECK(meal_of(made)->start == at_clock(shoot, 12, 30));
    CHECK(meal_of(made)->notes.at(0) == "open by the map; the map says: Sa 12:30-13:30");
}

TEST_CASE("of several days each goes by its own hours") {
    const Region region = with_cafes({{15, "Mo-Fr 11:00-18:00; Su 11:00-18:00"}, {23, "Sa 11:00-18:00"}});
    Shoot shoot = lunch_day();
    shoot.days.push_back(shoot.days[0]);
    shoot.days[1].date = geo::parse_date("2027-03-21").value();
    shoot.crew.turnaround = hours{8};
    add_scene(shoot, "next", 12, 60, clock(10, 11));
    shoot.scenes[2].after = {1};
    add_scene(shoot, "last", 20, 60, clock(15, 16));
    shoot.scenes[3].after = {2};
    const Plan made = plan_with(shoot, region);
    REQUIRE(meal_of(made, 0));
    CHECK(meal_of(made, 0)->name == "cafe 1");
    REQUIRE(meal_of(made, 1));
    CHECK(meal_of(made, 1)->name == "cafe 0");
}

TEST_CASE("a place with unknown hours is used only when none that is surely open lies within reach") {
    const Shoot shoot = lunch_day();
    const Plan known = plan_with(shoot, with_cafes({{15, ""}, {13, "Sa 11:30-15:00"}}));
    REQUIRE(meal_of(known));
    CHECK(meal_of(known)->name == "cafe 1");
    const Plan unknown = plan_with(shoot, with_cafes({{15, ""}, {13, "Mo-Fr 11:30-15:00"}}));
    REQUIRE(meal_of(unknown));
    CHECK(meal_of(unknown)->name == "cafe 0");
    CHECK(meal_of(unknown)->notes.at(0) == "hours not known: call ahead");
    const Plan doubtful = plan_with(shoot, with_cafes({{15, "Sa 12:00+"}}));
    REQUIRE(meal_of(doubtful));
    CHECK(meal_of(doubtful)->start >= at_clock(shoot, 12, 0));
    CHECK(meal_of(doubtful)->notes.at(0) == "hours not known for certain: call ahead; the map says: Sa 12:00+");
    const Plan unread = plan_with(shoot, with_cafes({{15, "noon to late"}}));
    REQUIRE(meal_of(unread));
    CHECK(meal_of(unread)->notes.at(0) == "hours not known for certain: call ahead; the map says: noon to late");
    Shoot near_base = small_world::empty_shoot();
    add_scene(near_base, "am", 5, 60, clock(10, 11));
    add_scene(near_base, "pm", 10, 60, clock(15, 16));
    near_base.meals = shoot.meals;
    const Plan beyond = plan_with(near_base, with_cafes({{8, ""}, {30, "Sa 11:30-15:00"}}));
    REQUIRE(meal_of(beyond));
    CHECK_MESSAGE(meal_of(beyond)->name == "cafe 0", "the sure one is 20 km, 22 min, from every location");
    const Plan within = plan_with(near_base, with_cafes({{8, ""}, {20, "Sa 11:30-15:00"}}));
    REQUIRE(meal_of(within));
    CHECK_MESSAGE(meal_of(within)->name == "cafe 1", "10 km, 11 min");
}

TEST_CASE("hours that hold unless it is a public holiday count, and say so") {
    const Plan made = plan_with(lunch_day(), with_cafes({{15, "Mo-Sa 11:00-18:00; PH off"}}));
    REQUIRE(meal_of(made));
    CHECK(meal_of(made)->notes.at(0) ==
          "open by the map, unless it is a public holiday; the map says: Mo-Sa 11:00-18:00; PH off");
}

TEST_CASE("with no place open then the meal is missed, and the plan says to carry food") {
    Shoot shoot = lunch_day();
    shoot.scenes[0].options[0].light = {clock(11, 13)};
    shoot.scenes[1].options[0].light = {clock(13, 15)};
    const Plan made = plan_with(shoot, with_cafes({{15, "Mo-Fr 11:00-18:00"}, {13, "18:00-23:00"}}));
    CHECK(meal_of(made) == nullptr);
    CHECK(std::any_of(made.warnings.begin(), made.warnings.end(), [](const std::string& warning) {
        return warning == "lunch (11:30–14:00) on 2027-03-20 has no place on the map that is open then: carry food";
    }));
}

TEST_CASE("a fixed meal and a packed one ask for no hours") {
    Shoot shoot = lunch_day();
    shoot.meals[0].where = MealWhere::packed;
    const Plan made = plan_with(shoot, with_cafes({{15, "off"}}));
    REQUIRE(meal_of(made));
    CHECK(meal_of(made)->notes.at(0) == "carry food: eaten where the crew is");
}
