#include "both_judges.hpp"
#include "small_world.hpp"

#include "geo/input_error.hpp"
#include "routing/shoot/planner.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace routing::shoot;
using small_world::add_scene;
using small_world::at_clock;
using small_world::clock;
using small_world::holds;
using small_world::region;
using small_world::says;
using std::chrono::minutes;

namespace {

Plan plan(const Shoot& shoot) {
    const Plan made = plan_shoot(shoot, region(), {});
    for (const std::string& fault : faults_by_both(made, shoot, region()))
        FAIL_CHECK(fault);
    return made;
}

std::vector<std::string> ids(const PlanDay& day) {
    std::vector<std::string> list;
    for (const PlanStop& stop : day.stops)
        list.push_back(stop.kind == PlanStopKind::meal ? stop.what : stop.id);
    return list;
}

const PlanStop& stop_of(const Plan& made, const std::string& id) {
    for (const PlanDay& day : made.days)
        for (const PlanStop& stop : day.stops)
            if (stop.id == id || (stop.kind == PlanStopKind::meal && stop.what == id))
                return stop;
    throw std::logic_error("no stop " + id);
}

} // namespace

TEST_CASE("windows decide the order, not the map: far, near, far") {
    Shoot shoot = small_world::empty_shoot();
    add_scene(shoot, "noon-near", 5, 60, clock(11, 13));
    add_scene(shoot, "late-far", 25, 60, clock(15, 17));
    add_scene(shoot, "early-far", 20, 60, clock(7, 9));
    const Plan made = plan(shoot);
    CHECK(made.result == PlanResult::optimal);
    CHECK(ids(made.days[0]) == std::vector<std::string>{"base", "early-far", "noon-near", "late-far", "base"});
    // 20 km at 54 km/h: 22 min 13 s and a bit; call that long before filming.
    CHECK(stop_of(made, "early-far").start == at_clock(shoot, 7, 0));
    CHECK(made.days[0].call > at_clock(shoot, 6, 37));
    CHECK(made.days[0].call < at_clock(shoot, 6, 38));
    // Filming "late-far" ends by 17:00 at the latest: an hour of slack when it starts at 15:00.
    CHECK(stop_of(made, "late-far").start == at_clock(shoot, 15, 0));
    CHECK(stop_of(made, "noon-near").leave_by - at_clock(shoot, 13, 0) <= minutes{180});
    CHECK(stop_of(made, "early-far").slack ==
          minutes{0} + (stop_of(made, "early-far").leave_by - at_clock(shoot, 8, 0)));
}

TEST_CASE("set-up and packing stand around filming, but not between neighbours at one location") {
    Shoot shoot = small_world::empty_shoot();
    add_scene(shoot, "a", 10, 30, clock(8, 18));
    shoot.locations[0].setup = minutes{20};
    shoot.locations[0].pack = minutes{10};
    Scene second = shoot.scenes[0];
    second.id = "b";
    second.after = {0};
    shoot.scenes.push_back(second);
    const Plan made = plan(shoot);
    const PlanStop& a = stop_of(made, "a");
    const PlanStop& b = stop_of(made, "b");
    CHECK(a.start - a.arrive == minutes{20});
    CHECK(b.start == a.end);
    CHECK(b.leave - b.end == minutes{10});
}

TEST_CASE("lunch is eaten at the place that costs least, and tells its hours") {
    Shoot shoot = small_world::empty_shoot();
    add_scene(shoot, "am", 10, 60, clock(10, 12));
    add_scene(shoot, "pm", 20, 60, clock(13, 15));
    shoot.meals = {small_world::lunch(std::chrono::hours{11} + minutes{30}, std::chrono::hours{14})};
    const Plan made = plan(shoot);
    CHECK(ids(made.days[0]) == std::vector<std::string>{"base", "am", "lunch", "pm", "base"});
    const PlanStop& lunch = stop_of(made, "lunch");
    CHECK(lunch.name == "Halfway Cups");
    CHECK(lunch.id == "node/301");
    CHECK(lunch.notes.at(0) == "open by the map; the map says: Mo-Su 09:00-17:00");
}

TEST_CASE("a meal that can't be had is said, a packed one needs no place") {
    Shoot shoot = small_world::empty_shoot();
    add_scene(shoot, "long", 10, 300, clock(10, 15));
    shoot.meals = {small_world::lunch(std::chrono::hours{11}, std::chrono::hours{14})};
    const Plan missed = plan(shoot);
    CHECK(std::any_of(missed.warnings.begin(), missed.warnings.end(), [](const std::string& w) {
        return holds(w, "lunch (11:00–14:00) on 2027-03-20 could not be fitted in");
    }));
    shoot.scenes[0].options[0].length = minutes{60};
    shoot.scenes[0].options[0].light = {clock(8, 10)};
    add_scene(shoot, "late", 10, 60, clock(15, 16));
    shoot.meals = {small_world::lunch(std::chrono::hours{11}, std::chrono::hours{14}, true)};
    CHECK(stop_of(plan(shoot), "lunch").leg.total == routing::shoot::Seconds{0});
}

TEST_CASE("on a night shoot the supper after midnight belongs to the night") {
    Shoot shoot = small_world::empty_shoot();
    shoot.days[0].earliest_call = std::chrono::hours{18};
    shoot.days[0].latest_wrap = std::chrono::hours{6};
    add_scene(shoot, "late", 10, 60, clock(22, 23));
    add_scene(shoot, "small-hours", 20, 60, clock(3, 4));
    shoot.meals = {small_world::lunch(minutes{30}, std::chrono::hours{2}, true)};
    const Plan made = plan(shoot);
    CHECK(ids(made.days[0]) == std::vector<std::string>{"base", "late", "lunch", "small-hours", "base"});
}

TEST_CASE("days end at a bed from the map when the shoot says so, and go on from there") {
    Shoot shoot = small_world::empty_shoot();
    shoot.days[0].end = DayEdge::bed;
    shoot.days.push_back({geo::parse_date("2027-03-21").value(), std::chrono::hours{4}, std::chrono::hours{20},
                          DayEdge::bed, DayEdge::base});
    shoot.crew.turnaround = minutes{9 * 60};
    shoot.lodging = small_world::beds({routing::places::PlaceKind::guest_house, routing::places::PlaceKind::hotel});
    add_scene(shoot, "dusk", 20, 60, geo::LightName::golden_evening);
    add_scene(shoot, "dawn", 25, 55, clock(5, 6)); // only the second day is called that early
    const Plan made = plan(shoot);
    CHECK(made.days[0].stops.back().name == "Inn at 26");
    CHECK(made.days[1].stops.front().name == "Inn at 26");
    CHECK(made.days[1].call - made.days[0].wrap >= std::chrono::hours{9});
    CHECK(ids(made.days[1]) == std::vector<std::string>{"node/302", "dawn", "base"});
}

TEST_CASE("of two options the one that fits is shot") {
    Shoot shoot = small_world::empty_shoot();
    add_scene(shoot, "x", 30, 60, geo::LightName::night);
    add_scene(shoot, "y", 5, 30, clock(9, 10));
    shoot.scenes[0].options.push_back({1, minutes{45}, {clock(12, 14)}, {}});
    const Plan made = plan(shoot);
    CHECK(stop_of(made, "x").option == 1);
    CHECK(stop_of(made, "x").name == "Spot y");
}

TEST_CASE("a dropped scene says the plain reason") {
    Shoot shoot = small_world::empty_shoot();
    SUBCASE("its light never comes") {
        add_scene(shoot, "a", 5, 30, geo::SunAltitudeRange{geo::Degrees{91}, geo::Degrees{95}, std::nullopt});
        const Plan made = plan(shoot);
        CHECK(made.result == PlanResult::partial);
        CHECK(says(made.dropped.at(0).why, "never comes at Spot a on 2027-03-20"));
    }
    SUBCASE("its light is too short") {
        add_scene(shoot, "a", 5, 90, clock(9, 10));
        CHECK(says(plan(shoot).dropped.at(0).why, "lasts 60 min (09:00–10:00), the scene needs 90 min: 30 min short"));
    }
    SUBCASE("its light comes after the wrap") {
        add_scene(shoot, "a", 5, 30, clock(20, 23));
        CHECK(says(plan(shoot).dropped.at(0).why, "before the latest wrap at 20:00: 30 min short"));
    }
    SUBCASE("it can't be reached in time even alone") {
        add_scene(shoot, "a", 30, 30, clock(5, 7));
        shoot.locations[0].setup = minutes{10};
        // 30 km at 54 km/h 33.3 min and 10 min set-up: ready 06:43:20, filming must start by 06:30.
        CHECK(says(plan(shoot).dropped.at(0).why,
                   "ready at 06:43 at the earliest, filming must start by 06:30: 14 min too late"));
    }
    SUBCASE("it can't be left in time even alone") {
        add_scene(shoot, "a", 30, 30, clock(19, 20));
        CHECK(
            says(plan(shoot).dropped.at(0).why, "back at 20:03 at the earliest, latest wrap is 20:00: 4 min too late"));
    }
    SUBCASE("another must excludes it") {
        add_scene(shoot, "a", 0, 60, clock(9, 10), true);
        add_scene(shoot, "b", 30, 60, clock(10, 11), false, 50);
        // a ends 10:00, 33.3 min on the road, b must start by 10:00.
        CHECK(says(plan(shoot).dropped.at(0).why, "can't be combined with \"Scene a\": 34 min short between them"));
    }
    SUBCASE("three do not fit where any two do") {
        for (const char* id : {"a", "b"})
            add_scene(shoot, id, 0, 60, clock(9, 11), true);
        add_scene(shoot, "c", 0, 60, clock(9, 11), false, 50);
        CHECK(says(plan(shoot).dropped.at(0).why, "keeping it would cost the must \"Scene"));
    }
    SUBCASE("what it follows is dropped") {
        add_scene(shoot, "a", 5, 90, clock(9, 10));
        add_scene(shoot, "b", 5, 30, clock(9, 18));
        shoot.scenes[1].after = {0};
        const Plan made = plan(shoot);
        CHECK(says(made.dropped.at(1).why, "it comes after \"Scene a\", which is not in the plan"));
    }
}

TEST_CASE("a closure takes the way round, and a location behind it is said to be cut off while the rest is planned") {
    Shoot shoot = small_world::empty_shoot();
    add_scene(shoot, "far", 20, 60, clock(12, 16));
    add_scene(shoot, "end", 30, 60, clock(9, 18));
    shoot.closures = {{routing::roads::Ways{{4}}, "way 4"}};
    const Plan round = plan(shoot);
    CHECK(round.result == PlanResult::optimal);
    CHECK(says(stop_of(round, "far").leg.roads.at(0).name + stop_of(round, "end").leg.roads.at(1).name, "Loop Lane"));
    shoot.closures.push_back({routing::roads::Ways{{6}}, "way 6"});
    const Plan cut = plan(shoot);
    CHECK(cut.result == PlanResult::partial);
    CHECK(says(cut.dropped.at(0).why, "cut off by the closures"));
}

namespace {

routing::roads::Closure way_shut(int way, const Shoot& shoot, int from_hour, int until_hour) {
    routing::roads::Closure closure{routing::roads::Ways{{way}}, "way " + std::to_string(way)};
    if (from_hour >= 0)
        closure.from = small_world::at_clock(shoot, from_hour, 0);
    if (until_hour >= 0)
        closure.until = small_world::at_clock(shoot, until_hour, 0);
    return closure;
}

} // namespace

TEST_CASE("a road shut for a time is used before, kept off while shut, and used after") {
    Shoot shoot = small_world::empty_shoot();
    PlanStop home;
    const auto way_to = [&](const geo::LightRequest& light) {
        shoot.scenes.clear();
        shoot.locations.clear();
        add_scene(shoot, "far", 20, 60, light);
        const Plan made = plan(shoot);
        REQUIRE(made.result == PlanResult::optimal);
        CHECK(faults_by_both(made, shoot, region()).empty());
        home = made.days[0].stops.back();
        return stop_of(made, "far");
    };
    shoot.closures = {way_shut(4, shoot, 10, 15)}; // from km 15 to 20
    CHECK(says(shoot.closures[0].label, "way 4"));

    const PlanStop before = way_to(clock(7, 9)); // out before it shuts
    CHECK(before.leg.roads.size() == 1);
    REQUIRE(before.leg.shut_roads.size() == 1);
    CHECK(before.leg.shut_roads[0].name == "Long Road");
    CHECK(before.leg.shut_roads[0].shut == geo::Interval{*shoot.closures[0].from, *shoot.closures[0].until});

    // There before it shuts, for a scene at noon; but home by Loop Lane, not after two hours of waiting.
    const PlanStop noon = way_to(clock(12, 13));
    CHECK(noon.leg.roads.size() == 1);
    CHECK(noon.arrive <= small_world::at_clock(shoot, 10, 0));
    CHECK(home.leg.roads.size() == 2);
    CHECK(home.leg.shut_roads.empty());
    CHECK(home.arrive < small_world::at_clock(shoot, 14, 0));

    const PlanStop after = way_to(clock(16, 18));
    CHECK(after.leg.roads.size() == 1);
    CHECK(after.leg.total == before.leg.total);

    shoot.closures = {way_shut(4, shoot, -1, 8)}; // until eight only
    CHECK(way_to(clock(9, 11)).leg.roads.size() == 1);
    CHECK(way_to(clock(7, 8)).leg.roads.size() == 2);
    shoot.closures = {way_shut(4, shoot, 6, 17)}; // from the earliest call on
    CHECK(way_to(clock(9, 11)).leg.roads.size() == 2);
    shoot.closures = {way_shut(4, shoot, 8, -1)}; // from eight on
    CHECK(way_to(clock(7, 8)).leg.roads.size() == 1);
    CHECK(home.leg.roads.size() == 2);
}

TEST_CASE("a closure that gets in nobody's way changes no plan") {
    Shoot shoot = small_world::empty_shoot();
    add_scene(shoot, "far", 30, 30, clock(7, 8));
    add_scene(shoot, "late", 25, 30, clock(10, 20));
    // Driving back and forth would wrap the day by noon; waiting for four o'clock saves 40 km.
    const std::uint32_t near = add_scene(shoot, "near", 5, 30, clock(9, 10));
    shoot.scenes[near].options[0].light.push_back(clock(16, 17));
    const Plan open = plan(shoot);
    REQUIRE(ids(open.days[0]) == std::vector<std::string>{"base", "far", "late", "near", "base"});

    shoot.closures = {way_shut(4, shoot, 18, 19)};
    const Plan shut = plan(shoot);
    CHECK(shut.result == PlanResult::optimal);
    REQUIRE(ids(shut.days[0]) == ids(open.days[0]));
    for (std::size_t n = 0; n < open.days[0].stops.size(); ++n) {
        CHECK(shut.days[0].stops[n].arrive == open.days[0].stops[n].arrive);
        CHECK(shut.days[0].stops[n].start == open.days[0].stops[n].start);
    }
    CHECK(stop_of(shut, "late").leave_by <= *shoot.closures[0].from); // by then the way told shuts
}

TEST_CASE("where there is no way round, the crew waits for the road at the stop before, or stays beyond it") {
    Shoot shoot = small_world::empty_shoot();
    add_scene(shoot, "near", 20, 30, clock(8, 12));
    add_scene(shoot, "end", 30, 30, clock(9, 18));
    shoot.closures = {way_shut(6, shoot, 7, 13)}; // from km 25 to 30
    const Plan made = plan(shoot);
    REQUIRE(made.result == PlanResult::optimal);
    CHECK(faults_by_both(made, shoot, region()).empty());
    const PlanStop& end = stop_of(made, "end");
    // At km 25, where the road is shut until one, when it opens: five more kilometres, 5 min 34 s.
    CHECK(end.arrive == small_world::at_clock(shoot, 13, 5) + geo::Seconds{34});
    CHECK(end.leg.waits.empty());
    CHECK(std::any_of(made.warnings.begin(), made.warnings.end(),
                      [](const std::string& w) { return holds(w, "closed 2027-03-20 07:00 to 13:00: way 6"); }));
}

TEST_CASE("a scene that only a road shut for a time leads to is said to be out of reach because of it") {
    Shoot shoot = small_world::empty_shoot();
    add_scene(shoot, "end", 30, 30, clock(9, 11));
    shoot.closures = {way_shut(6, shoot, 5, 13)};
    const Plan made = plan(shoot);
    CHECK(made.result == PlanResult::partial);
    CHECK(says(made.dropped.at(0).why, "while roads are shut"));
    // Early enough on the other side, and home again when it is open.
    shoot.closures = {way_shut(6, shoot, 8, 13)};
    const Plan early = plan(shoot);
    CHECK(early.result == PlanResult::optimal);
    CHECK(faults_by_both(early, shoot, region()).empty());
    CHECK(stop_of(early, "end").arrive <= small_world::at_clock(shoot, 8, 0));
    CHECK(early.days[0].wrap >= small_world::at_clock(shoot, 13, 30));
    // The latest wrap is 20:00; the road opens at 19:50, and home is 25 km beyond it at 54 km/h.
    shoot.closures = {way_shut(6, shoot, 8, 19)};
    *shoot.closures[0].until += minutes{50};
    const Plan late = plan(shoot);
    CHECK(late.result == PlanResult::partial);
    CAPTURE(late.dropped.at(0).why);
    CHECK(says(late.dropped.at(0).why, "without the closures for a time it could, or with a wrap at 20:24"));
}

TEST_CASE("where the closures shut the start in, it is blamed, not the scenes") {
    Shoot shoot = small_world::empty_shoot();
    add_scene(shoot, "far", 12, 30, clock(9, 16));
    add_scene(shoot, "farther", 22, 30, clock(9, 16));
    shoot.closures = {{routing::roads::Ways{{2}}, "way 2"}};
    const Plan made = plan(shoot);
    CHECK(made.result == PlanResult::partial);
    for (const auto& dropped : made.dropped)
        CHECK(says(dropped.why, "no way out of where the day starts"));
}

TEST_CASE("set-up, filming and packing lie inside a location's opening hours") {
    Shoot shoot = small_world::empty_shoot(); // Saturday 2027-03-20, in UTC
    add_scene(shoot, "hall", 5, 30, clock(7, 18));
    shoot.locations[0].setup = minutes{20};
    shoot.locations[0].pack = minutes{15};
    shoot.locations[0].open = "Mo-Sa 14:00-15:05; PH off";
    const Plan made = plan(shoot);
    REQUIRE(made.result == PlanResult::optimal);
    CHECK(stop_of(made, "hall").start == small_world::at_clock(shoot, 14, 20)); // and 15:05 when packed
    CHECK(std::any_of(stop_of(made, "hall").notes.begin(), stop_of(made, "hall").notes.end(),
                      [](const auto& note) { return holds(note, "open Mo-Sa 14:00-15:05; PH off"); }));
    // A minute less will not do, nor a day that is known to be a holiday.
    shoot.locations[0].open = "Mo-Sa 14:00-15:04";
    CHECK(says(plan(shoot).dropped.at(0).why, "is not open (Mo-Sa 14:00-15:04) while its light lasts"));
    shoot.locations[0].open = "Mo-Sa 14:00-15:05; PH off";
    shoot.holidays = {{shoot.days[0].date}};
    CHECK(plan(shoot).result == PlanResult::partial);
    shoot.holidays = std::vector<geo::CivilDate>{};
    CHECK(plan(shoot).result == PlanResult::optimal);
    // Unknown is not open.
    shoot.locations[0].open = "14:00+";
    CHECK(plan(shoot).result == PlanResult::partial);
}

TEST_CASE("the sky told picks the option, and drops what it does not suit") {
    Shoot shoot = small_world::empty_shoot();
    const auto scene = add_scene(shoot, "a", 5, 30, clock(7, 18));
    add_scene(shoot, "b", 10, 30, clock(7, 18), false, 5);
    shoot.scenes[scene].options[0].sky = {"clear", "few"};
    shoot.scenes[scene].options.push_back({1, minutes{40}, {clock(7, 18)}, {"overcast", "rain"}});
    shoot.scenes[1].options[0].sky = {"clear"};
    shoot.told_sky = ToldSky{"clear", {}};
    const Plan clear = plan(shoot);
    CHECK(stop_of(clear, "a").option == 0);
    CHECK(clear.dropped.empty());
    CHECK(clear.told_sky == shoot.told_sky);
    shoot.told_sky->sky = "rain";
    const Plan rain = plan(shoot);
    CHECK(stop_of(rain, "a").option == 1);
    REQUIRE(rain.dropped.size() == 1);
    CHECK(says(rain.dropped[0].why, "no way to shoot it suits the sky told, rain: it wants clear"));
    CHECK(std::any_of(rain.warnings.begin(), rain.warnings.end(),
                      [](const std::string& w) { return holds(w, "made for a sky that is rain"); }));
}

TEST_CASE("a scene keeps its own earliest and latest times") {
    Shoot shoot = small_world::empty_shoot();
    const auto scene = add_scene(shoot, "a", 5, 30, clock(7, 18));
    shoot.scenes[scene].not_before = small_world::at_clock(shoot, 13, 10);
    shoot.scenes[scene].not_after = small_world::at_clock(shoot, 13, 40);
    CHECK(stop_of(plan(shoot), "a").start == small_world::at_clock(shoot, 13, 10));
    shoot.scenes[scene].not_after = small_world::at_clock(shoot, 13, 39);
    CHECK(says(plan(shoot).dropped.at(0).why, "leaves no 30 min between the earliest and latest times"));
}

TEST_CASE("a closure for all the hours of a shoot, or for none of them, is no closure for a time") {
    Shoot shoot = small_world::empty_shoot(); // 06:00 to 20:00
    add_scene(shoot, "far", 20, 60, clock(9, 16));
    shoot.closures = {way_shut(4, shoot, 6, 20)};
    const Plan whole = plan(shoot);
    CHECK(stop_of(whole, "far").leg.roads.size() == 2);
    CHECK(std::any_of(whole.warnings.begin(), whole.warnings.end(),
                      [](const std::string& w) { return holds(w, "closed for the whole plan: way 4"); }));
    shoot.closures = {way_shut(4, shoot, 20, 23)};
    const Plan none = plan(shoot);
    CHECK(stop_of(none, "far").leg.roads.size() == 1);
    CHECK(std::any_of(none.warnings.begin(), none.warnings.end(),
                      [](const std::string& w) { return holds(w, "closed outside the hours of this shoot"); }));
}

TEST_CASE("what can't be planned at all is an input error with file, field, value and mend") {
    Shoot shoot = small_world::empty_shoot();
    add_scene(shoot, "a", 5, 30, clock(9, 18));
    const auto message = [&]() -> std::string {
        try {
            plan_shoot(shoot, region(), {});
        } catch (const geo::InputError& error) {
            return error.what();
        }
        return "";
    };
    SUBCASE("a location off the map") {
        shoot.locations[0].at = {geo::Degrees{0.4}, geo::Degrees{0.0}};
        CHECK(says(message(), "small.json: /locations/0/at: \"0.40000,0.00000\" (location at-a) is 40.5 km from the "
                              "nearest road in small_world.osm"));
    }
    SUBCASE("a walk longer than the crew walks") {
        shoot.locations[0].at.latitude = geo::Degrees{0.03};
        shoot.crew.max_walk = minutes{30};
        CHECK(says(message(), "min on foot from the nearest place the van can stop"));
    }
    SUBCASE("a base on a shut road") {
        shoot.base->at = small_world::at_km(2);
        shoot.closures = {{routing::roads::Ways{{1}}, "way 1"}};
        CHECK(says(message(), "small.json: /base/at: \"Base\" stands on a road that the closures shut"));
    }
    SUBCASE("a closure that matches nothing names its neighbours") {
        shoot.closures = {{routing::roads::RoadNamed{"Lang Road", small_world::at_km(3)}, "Lang Road"}};
        CHECK(says(message(), "small.json: /closures/0: \"Lang Road\" matches no road"));
        CHECK(says(message(), "Long Road"));
    }
}

TEST_CASE("walks are estimated, counted in the leg and said") {
    Shoot shoot = small_world::empty_shoot();
    add_scene(shoot, "a", 5, 30, clock(9, 18));
    shoot.locations[0].at.latitude = geo::Degrees{0.005}; // 553 m north: 774 m on foot at 4 km/h, 11 min 37 s
    const Plan made = plan(shoot);
    const PlanStop& a = stop_of(made, "a");
    CHECK(a.leg.walk() > minutes{11});
    CHECK(a.leg.walk() < minutes{12});
    CHECK(made.days[0].walk == 2 * a.leg.walk());
    CHECK(std::any_of(made.warnings.begin(), made.warnings.end(),
                      [](const std::string& w) { return holds(w, "12 min on foot"); }));
}
