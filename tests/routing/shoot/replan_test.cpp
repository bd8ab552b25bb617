#include "both_judges.hpp"
#include "small_world.hpp"

#include "geo/geodesic.hpp"
#include "geo/input_error.hpp"
#include "routing/shoot/replan.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace routing::shoot;
using small_world::add_scene;
using small_world::at_clock;
using small_world::at_km;
using small_world::clock;
using small_world::holds;
using small_world::region;
using small_world::says;
using std::chrono::minutes;

namespace {

/// Morning at km 10, noon at km 20, a wish at km 25, evening at km 5.
Shoot day_of_four() {
    Shoot shoot = small_world::empty_shoot();
    add_scene(shoot, "morning", 10, 60, clock(8, 10));
    add_scene(shoot, "noon", 20, 60, clock(11, 13));
    add_scene(shoot, "wish", 25, 60, clock(13, 16), false, 30);
    add_scene(shoot, "evening", 5, 60, clock(17, 19));
    return shoot;
}

/// A re-plan that the product's own check finds nothing wrong with.
Replan sound_replan(const Shoot& shoot, const Region& on, const Plan& old, const Changes& changes,
                    const PlanSettings& settings) {
    Replan again = replan(shoot, on, old, changes, settings);
    for (const PlanFault& fault : check_plan(again.plan, shoot, on))
        FAIL_CHECK(in_words(fault));
    return again;
}

const PlanStop* find(const Plan& plan, const std::string& id) {
    for (const PlanDay& day : plan.days)
        for (const PlanStop& stop : day.stops)
            if (stop.id == id)
                return &stop;
    return nullptr;
}

} // namespace

TEST_CASE("what is past stays, to the second") {
    const Shoot shoot = day_of_four();
    const Plan old = plan_shoot(shoot, region(), {});
    Changes changes;
    changes.now = at_clock(shoot, 10, 30);
    const Replan again = sound_replan(shoot, region(), old, changes, {});
    REQUIRE(find(again.plan, "morning"));
    CHECK(find(again.plan, "morning")->done);
    CHECK(find(again.plan, "morning")->start == find(old, "morning")->start);
    CHECK(again.plan.days[0].call == old.days[0].call);
    CHECK(find(again.plan, "noon")->start == find(old, "noon")->start);
    CHECK(again.plan.dropped.empty());
}

TEST_CASE("the first line says what to do now and by when") {
    const Shoot shoot = day_of_four();
    const Plan old = plan_shoot(shoot, region(), {});
    Changes changes;
    SUBCASE("before the call") {
        changes.now = at_clock(shoot, 6, 30);
        CHECK(says(sound_replan(shoot, region(), old, changes, {}).now_line, "Call at 07:4"));
    }
    SUBCASE("while filming") {
        changes.now = at_clock(shoot, 8, 30);
        CHECK(says(sound_replan(shoot, region(), old, changes, {}).now_line,
                   "Finish \"Scene morning\" by 09:00, then leave at 09:00, by 11:48 at the latest, for Spot noon"));
    }
    SUBCASE("while filming, the way on shut until after that") {
        changes.now = at_clock(shoot, 8, 30);
        changes.closures = {{routing::roads::Ways{{4}}, "way 4"}};
        changes.closures[0].until = at_clock(shoot, 9, 30);
        CHECK(says(sound_replan(shoot, region(), old, changes, {}).now_line,
                   "then leave at 09:30, by 11:48 at the latest, for Spot noon"));
        changes.closures[0].until = at_clock(shoot, 8, 45);
        CHECK(says(sound_replan(shoot, region(), old, changes, {}).now_line,
                   "then leave at 09:00, by 11:48 at the latest, for Spot noon"));
    }
    SUBCASE("running late") {
        changes.now = at_clock(shoot, 8, 30);
        changes.late = minutes{150};
        const Replan again = sound_replan(shoot, region(), old, changes, {});
        // Free at 11:30 at km 10; 11 min 7 s to km 20: noon starts 11:41 instead of 11:00.
        CHECK(says(
            again.now_line,
            "Finish \"Scene morning\" by 11:30, then leave at 11:30, by 11:48 at the latest, for Spot noon (12 min)"));
        CHECK(find(again.plan, "noon")->start > at_clock(shoot, 11, 41));
        CHECK(find(again.plan, "noon")->start < at_clock(shoot, 11, 42));
    }
    SUBCASE("when all is done") {
        changes.now = at_clock(shoot, 12, 30);
        changes.done = {"wish", "evening"};
        CHECK(says(sound_replan(shoot, region(), old, changes, {}).now_line, "for Base"));
    }
}

TEST_CASE("being too late drops what no longer fits, and says why") {
    const Shoot shoot = day_of_four();
    const Plan old = plan_shoot(shoot, region(), {});
    Changes changes;
    changes.now = at_clock(shoot, 8, 30);
    changes.late = minutes{240}; // free at 13:00, noon must start by 12:00
    const Replan again = sound_replan(shoot, region(), old, changes, {});
    CHECK(again.plan.result == PlanResult::partial);
    REQUIRE(again.plan.dropped.size() == 1);
    CHECK(again.plan.dropped[0].scene == "noon");
    CHECK(says(again.plan.dropped[0].why, "too late"));
    const auto row = std::find_if(again.rows.begin(), again.rows.end(),
                                  [](const ChangeRow& r) { return holds(r.name, "Scene noon"); });
    REQUIRE(row != again.rows.end());
    CHECK(row->old_start == find(old, "noon")->start);
    CHECK(!row->new_start);
    CHECK(says(row->note, "dropped: "));
}

TEST_CASE("a closure on the day leads round it from where the crew is") {
    const Shoot shoot = day_of_four();
    const Plan old = plan_shoot(shoot, region(), {});
    Changes changes;
    changes.now = at_clock(shoot, 9, 30);
    changes.at = at_km(11);
    changes.closures = {{routing::roads::Ways{{4}}, "ways:4"}};
    const Replan again = sound_replan(shoot, region(), old, changes, {});
    const PlanStop* noon = find(again.plan, "noon");
    REQUIRE(noon);
    // From km 11 back to 10 (67 s), then 20 km of Loop Lane (1333 s).
    CHECK(noon->leg.van > geo::Seconds{1395});
    CHECK(noon->leg.van < geo::Seconds{1405});
    CHECK(again.plan.closures.size() == 1);
    SUBCASE("a later re-plan still knows the closure") {
        Changes later;
        later.now = at_clock(shoot, 16, 0);
        const Replan third = sound_replan(shoot, region(), again.plan, later, {});
        CHECK(third.plan.closures.size() == 1);
        CHECK(find(third.plan, "evening")->leg.length.value > 25000.0);
    }
}

TEST_CASE("between stops without a position the crew is reckoned along the leg") {
    const Shoot shoot = day_of_four();
    const Plan old = plan_shoot(shoot, region(), {});
    Changes changes;
    const PlanStop* noon = find(old, "noon");
    changes.now = find(old, "morning")->leave + noon->leg.total / 2;
    const Replan again = sound_replan(shoot, region(), old, changes, {});
    const PlanStop* now_noon = find(again.plan, "noon");
    CHECK(now_noon->leg.length.value > 4900.0);
    CHECK(now_noon->leg.length.value < 5100.0);
}

TEST_CASE("a crew standing set up is not asked to set up again") {
    Shoot shoot = day_of_four();
    shoot.locations[1].setup = minutes{45};
    const Plan old = plan_shoot(shoot, region(), {});
    Changes changes;
    changes.now = at_clock(shoot, 10, 59);
    const Replan again = sound_replan(shoot, region(), old, changes, {});
    CHECK(find(again.plan, "noon")->start == at_clock(shoot, 11, 0));
}

TEST_CASE("scenes in the can and scenes given up leave the rest") {
    const Shoot shoot = day_of_four();
    const Plan old = plan_shoot(shoot, region(), {});
    Changes changes;
    changes.now = at_clock(shoot, 10, 30);
    changes.done = {"wish"};
    changes.drop = {"evening"};
    const Replan again = sound_replan(shoot, region(), old, changes, {});
    CHECK(!find(again.plan, "wish"));
    CHECK(!find(again.plan, "evening"));
    REQUIRE(again.plan.dropped.size() == 1);
    CHECK(again.plan.dropped[0].why == "given up by the crew");
    CHECK(again.plan.result == PlanResult::optimal); // given up is not failed
    CHECK(again.plan.scenes_done == std::vector<std::string>{"morning", "wish"});
}

TEST_CASE("a scene being filmed can be broken off") {
    const Shoot shoot = day_of_four();
    const Plan old = plan_shoot(shoot, region(), {});
    Changes changes;
    changes.now = at_clock(shoot, 8, 30);
    changes.drop = {"morning"};
    const Replan again = sound_replan(shoot, region(), old, changes, {});
    CHECK(!find(again.plan, "morning"));
    CHECK(says(again.now_line, "Leave now, by 11:48 at the latest, for Spot noon"));
}

TEST_CASE("overnight the next day starts at last night's bed") {
    Shoot shoot = day_of_four();
    shoot.days[0].end = DayEdge::bed;
    shoot.days.push_back({geo::parse_date("2027-03-21").value(), std::chrono::hours{6}, std::chrono::hours{20},
                          DayEdge::bed, DayEdge::base});
    shoot.lodging = small_world::beds({routing::places::PlaceKind::guest_house});
    add_scene(shoot, "second", 29, 60, clock(7, 8));
    shoot.days[0].latest_wrap = std::chrono::hours{21};
    const Plan old = plan_shoot(shoot, region(), {});
    REQUIRE(old.dropped.empty());
    Changes changes;
    changes.now = at_clock(shoot, 23, 30);
    const Replan again = sound_replan(shoot, region(), old, changes, {});
    CHECK(again.plan.days[1].stops.front().at == old.days[1].stops.front().at);
    CHECK(find(again.plan, "second")->start == find(old, "second")->start);
    CHECK(again.plan.days[0].stops.size() == old.days[0].stops.size());
}

TEST_CASE("a re-plan with nothing changed gives the plan again, at every minute of the day") {
    Shoot shoot = day_of_four();
    // Two scenes in a row at one location: set up once, pack once.
    shoot.locations[1].setup = minutes{40};
    shoot.locations[1].pack = minutes{10};
    Scene second = shoot.scenes[1];
    second.id = "noon-2";
    second.title = "Scene noon-2";
    second.options[0].length = minutes{30};
    second.options[0].light = {clock(12, 14)};
    shoot.scenes.push_back(second);
    shoot.meals = {small_world::lunch(std::chrono::hours{13}, std::chrono::hours{16})};
    shoot.locations[2].at.latitude = geo::Degrees{0.003}; // a walk of seven minutes
    const Plan old = plan_shoot(shoot, region(), {});
    REQUIRE(old.dropped.empty());
    for (geo::Instant now = at_clock(shoot, 6, 5); now < old.days[0].wrap; now += minutes{7}) {
        Changes changes;
        changes.now = now;
        const Replan again = sound_replan(shoot, region(), old, changes, {});
        CAPTURE(geo::iso_text(now, shoot.zone));
        CAPTURE(again.now_line);
        CHECK(again.plan.dropped.empty());
        for (const PlanStop& stop : old.days[0].stops) {
            if (stop.kind != PlanStopKind::scene)
                continue;
            const PlanStop* same = find(again.plan, stop.id);
            REQUIRE(same);
            // Reckoning along a leg is good to two minutes: legs are driven faster here, slower there.
            CHECK(same->start - stop.start <= minutes{2});
            CHECK(stop.start - same->start <= minutes{2});
        }
    }
}

TEST_CASE("the first line never sends the crew to where it stands") {
    const Shoot shoot = day_of_four();
    const Plan old = plan_shoot(shoot, region(), {});
    Changes changes;
    SUBCASE("waiting") {
        changes.now = at_clock(shoot, 16, 0);
        CHECK(says(sound_replan(shoot, region(), old, changes, {}).now_line,
                   "Stay at Spot evening: \"Scene evening\" starts 17:00."));
    }
    SUBCASE("home") {
        changes.now = old.days[0].wrap + minutes{10};
        CHECK(sound_replan(shoot, region(), old, changes, {}).now_line == "Nothing more is planned today.");
    }
}

TEST_CASE("an overrun told once is still known at the next re-plan") {
    const Shoot shoot = day_of_four();
    const Plan old = plan_shoot(shoot, region(), {});
    Changes late;
    late.now = at_clock(shoot, 8, 30);
    late.late = minutes{40};
    const Replan first = sound_replan(shoot, region(), old, late, {});
    Changes later;
    later.now = at_clock(shoot, 9, 10);
    const Replan second = sound_replan(shoot, region(), first.plan, later, {});
    CHECK(says(second.now_line, "Finish \"Scene morning\" by 09:40"));
}

TEST_CASE("an early finish and a broken-off scene leave after packing") {
    Shoot shoot = day_of_four();
    shoot.locations[0].pack = minutes{20};
    const Plan old = plan_shoot(shoot, region(), {});
    Changes changes;
    changes.now = at_clock(shoot, 8, 30);
    SUBCASE("done early") {
        changes.done = {"morning"};
    }
    SUBCASE("broken off") {
        changes.drop = {"morning"};
    }
    const Replan again = sound_replan(shoot, region(), old, changes, {});
    const PlanStop* noon = find(again.plan, "noon");
    REQUIRE(noon);
    CHECK(noon->arrive >= at_clock(shoot, 9, 1)); // packed 08:50, 11 min 7 s on the road
    CHECK(noon->arrive <= at_clock(shoot, 9, 2));
}

namespace {

/// The first scene, with half an hour of set-up, at km 12: on way 3, km 10 to 15.
Shoot morning_on_way_3() {
    Shoot shoot = day_of_four();
    shoot.locations[0].setup = minutes{30};
    shoot.locations[0].at = at_km(12);
    return shoot;
}

Changes way_3_shut_while_setting_up(const Shoot& shoot, const Plan& old) {
    REQUIRE(find(old, "morning")->start == at_clock(shoot, 8, 0));
    Changes changes;
    changes.now = at_clock(shoot, 7, 45);
    changes.closures = {{routing::roads::Ways{{3}}, "way 3"}};
    return changes;
}

} // namespace

TEST_CASE("a crew setting up on a road that reopens before it is done stays and films") {
    const Shoot shoot = morning_on_way_3();
    const Plan old = plan_shoot(shoot, region(), {});
    Changes changes = way_3_shut_while_setting_up(shoot, old);
    changes.closures[0].until = at_clock(shoot, 8, 30);
    const Replan again = sound_replan(shoot, region(), old, changes, {});
    CHECK(again.plan.dropped.empty());
    CHECK(find(again.plan, "morning")->start == at_clock(shoot, 8, 0));
    CHECK(find(again.plan, "noon")->start == find(old, "noon")->start);
    CHECK_FALSE(std::any_of(again.plan.warnings.begin(), again.plan.warnings.end(),
                            [](const std::string& w) { return holds(w, "stands on a shut road"); }));
    // Shut until the evening it is better to leave, once it has filmed: three more scenes.
    changes.closures[0].until = at_clock(shoot, 19, 0);
    const Replan leaves = sound_replan(shoot, region(), old, changes, {});
    CHECK(find(leaves.plan, "morning")); // films first
    CHECK(find(leaves.plan, "evening"));
}

TEST_CASE("when the sky turns the crew is told what to shoot instead with it today") {
    Shoot shoot = day_of_four();
    auto& noon = shoot.scenes[1];
    REQUIRE(noon.id == "noon");
    noon.options[0].sky = {"clear"};
    const Plan old = plan_shoot(shoot, region(), {});
    REQUIRE(find(old, "noon"));
    Changes changes;
    changes.now = at_clock(shoot, 9, 0);
    changes.sky = "overcast";
    const Replan again = replan(shoot, region(), old, changes, {});
    CHECK(find(again.plan, "noon") == nullptr);
    REQUIRE(again.plan.told_sky);
    CHECK(again.plan.told_sky->on == shoot.days[0].date);
    // It holds in the next one, until told anew.
    Changes later;
    later.now = at_clock(shoot, 9, 5);
    CHECK(find(replan(shoot, region(), again.plan, later, {}).plan, "noon") == nullptr);
    later.sky = "any";
    CHECK(find(replan(shoot, region(), again.plan, later, {}).plan, "noon"));
    noon.options.push_back({noon.options[0].location, minutes{20}, noon.options[0].light, {"overcast"}});
    const Replan instead = replan(shoot, region(), old, changes, {});
    REQUIRE(find(instead.plan, "noon"));
    CHECK(find(instead.plan, "noon")->option == 1);
}

TEST_CASE("a crew standing on the road that is shut drives out of it first, and is told the way") {
    const Shoot shoot = day_of_four();
    const Plan old = plan_shoot(shoot, region(), {});
    Changes changes;
    changes.now = at_clock(shoot, 10, 30);
    changes.at = at_km(18);
    changes.closures = {{routing::roads::Ways{{4}}, "ways:4"}}; // km 15 to 20
    changes.done = {"noon"};                                    // filmed at km 20; the rest lies beyond
    const Replan again = sound_replan(shoot, region(), old, changes, {});
    CHECK(again.plan.dropped.empty());
    CHECK(std::any_of(again.plan.warnings.begin(), again.plan.warnings.end(),
                      [](const std::string& w) { return holds(w, "stands on a shut road"); }));
    // 2 km on to km 20 at 54 km/h.
    CAPTURE(again.now_line);
    CHECK(says(again.now_line, "3 min of it out of the shut road): "));
    const auto& stops = again.plan.days.front().stops;
    const auto out = std::find_if(stops.begin(), stops.end(),
                                  [](const PlanStop& stop) { return stop.leg.drive_out > geo::Seconds{0}; });
    REQUIRE(out != stops.end());
    CHECK(out->leg.drive_out >= geo::Seconds{133});
    CHECK(out->leg.drive_out <= geo::Seconds{135});
    CHECK(out->leg.van > out->leg.drive_out);
    // The line begins where the crew stands, on the shut road.
    CHECK(geo::distance(out->leg.line.front(), at_km(18)) < geo::Metres{30.0});
    CHECK(std::count_if(out->leg.directions.begin(), out->leg.directions.end(),
                        [](const auto& step) { return step.turn == routing::roads::Turn::set_off; }) == 2);
    geo::Metres told{0.0};
    for (const auto& step : out->leg.directions)
        told += step.length;
    CHECK(std::abs((told - out->leg.length).value) < 1.0);
}

TEST_CASE("a crew set up on a road that is shut for good films what it stands at, then drives out") {
    const Shoot shoot = morning_on_way_3();
    const Plan old = plan_shoot(shoot, region(), {});
    Changes changes = way_3_shut_while_setting_up(shoot, old);
    const Replan again = sound_replan(shoot, region(), old, changes, {});
    REQUIRE(find(again.plan, "morning"));
    CHECK(find(again.plan, "morning")->start == at_clock(shoot, 8, 0));
    REQUIRE(find(again.plan, "noon"));
    CHECK(find(again.plan, "noon")->leg.drive_out > geo::Seconds{0});
    CHECK(again.plan.dropped.empty());
}

TEST_CASE("a crew cut off from home is told so and keeps what it can reach") {
    const Shoot shoot = day_of_four();
    const Plan old = plan_shoot(shoot, region(), {});
    Changes changes;
    changes.now = at_clock(shoot, 10, 30);
    changes.at = at_km(20);
    changes.closures = {{routing::roads::Ways{{4}}, "ways:4"}, {routing::roads::Ways{{7}}, "ways:7"}};
    const Replan again = sound_replan(shoot, region(), old, changes, {});
    CHECK(find(again.plan, "noon"));
    CHECK(find(again.plan, "wish"));
    CHECK(std::any_of(again.plan.warnings.begin(), again.plan.warnings.end(),
                      [](const std::string& w) { return holds(w, "cut off by the closures"); }));
}

TEST_CASE("what comes after a scene given up is given up too, and a scene in the can can't be dropped") {
    Shoot shoot = day_of_four();
    shoot.scenes[3].after = {1};
    const Plan old = plan_shoot(shoot, region(), {});
    Changes changes;
    changes.now = at_clock(shoot, 10, 30);
    changes.drop = {"noon"};
    const Replan again = sound_replan(shoot, region(), old, changes, {});
    CHECK(!find(again.plan, "evening"));
    CHECK(says(again.plan.dropped.back().why, "it comes after \"Scene noon\", which is given up"));
    changes.drop = {"morning"};
    CHECK_THROWS_AS(sound_replan(shoot, region(), old, changes, {}), geo::InputError);
}

TEST_CASE("wrong changes are input errors that name the option") {
    const Shoot shoot = day_of_four();
    const Plan old = plan_shoot(shoot, region(), {});
    Changes changes;
    changes.now = at_clock(shoot, 10, 30);
    const auto message = [&]() -> std::string {
        try {
            sound_replan(shoot, region(), old, changes, {});
        } catch (const geo::InputError& error) {
            return error.what();
        }
        return "";
    };
    SUBCASE("unknown scene") {
        changes.done = {"nun"};
        CHECK(says(message(), "--done: \"nun\" is no scene of small.json; known scenes: morning, noon"));
    }
    SUBCASE("done and dropped") {
        changes.done = changes.drop = {"noon"};
        CHECK(says(message(), "--drop: \"noon\" is also given as --done"));
    }
    SUBCASE("after the shoot") {
        changes.now += std::chrono::days{3};
        CHECK(says(message(), "--now: \"2027-03-23T10:30:00"));
    }
    SUBCASE("a closure nowhere") {
        changes.closures = {{routing::roads::Ways{{999}}, "ways:999"}};
        CHECK(says(message(), "--close: \"ways:999\" matches no road"));
    }
    SUBCASE("a position off the map") {
        changes.at = geo::Coordinate{geo::Degrees{1.0}, geo::Degrees{1.0}};
        CHECK(says(message(), "--at: \"1.00000,1.00000\""));
    }
}
