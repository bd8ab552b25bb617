#include "both_judges.hpp"
#include "small_world.hpp"

#include "routing/shoot/replan.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace routing::shoot;
using small_world::add_scene;
using small_world::at_clock;
using small_world::at_km;
using small_world::clock;
using small_world::region;
using std::chrono::minutes;

namespace {

/// A day with set-up, opening hours, a meal on the map, limits and an order: 20 km east and back.
Shoot full_shoot() {
    Shoot shoot = small_world::empty_shoot();
    add_scene(shoot, "early", 10, 60, clock(8, 10));
    add_scene(shoot, "late", 20, 60, clock(13, 17));
    add_scene(shoot, "wish", 25, 30, geo::LightName::day, false, 30);
    shoot.locations[0].setup = minutes{10};
    shoot.locations[0].pack = minutes{5};
    shoot.locations[1].open = "Mo-Su 13:00-16:00";
    shoot.scenes[1].after = {0};
    shoot.scenes[1].not_before = at_clock(shoot, 13, 30);
    shoot.scenes[1].not_after = at_clock(shoot, 15, 30);
    shoot.meals = {small_world::lunch(minutes{11 * 60}, minutes{14 * 60})};
    shoot.meals[0].within_of_call = minutes{6 * 60};
    return shoot;
}

struct Sound {
    Shoot shoot = full_shoot();
    Plan plan = plan_shoot(shoot, region(), {});

    std::vector<PlanStop>& stops() { return plan.days[0].stops; }

    std::size_t number(const std::string& id) const {
        const std::vector<PlanStop>& list = plan.days[0].stops;
        for (std::size_t n = 0; n < list.size(); ++n)
            if (list[n].id == id || list[n].what == id)
                return n;
        throw std::logic_error("no stop " + id);
    }
    PlanStop& operator[](const std::string& id) { return stops()[number(id)]; }
    std::vector<PlanFault> faults() const { return check_plan(plan, shoot, region()); }

    /// The one fault told of that member of that stop.
    PlanFault fault(const std::string& id, const std::string& member) const {
        return fault_at("/days/0/stops/" + std::to_string(number(id)) + "/" + member);
    }
    PlanFault fault_at(const std::string& field) const {
        PlanFault found;
        std::string all;
        int count = 0;
        for (const PlanFault& fault : faults()) {
            all += in_words(fault) + "\n";
            if (fault.field == field) {
                found = fault;
                ++count;
            }
        }
        INFO(all);
        CHECK_MESSAGE(count == 1, "faults at ", field, ": ", count);
        return found;
    }
};

void move(PlanStop& stop, geo::Seconds by) {
    for (Instant* time : {&stop.arrive, &stop.start, &stop.end, &stop.leave, &stop.leave_by})
        *time += by;
}

bool tells(const std::string& text, const std::string& part) {
    return small_world::says(text, part);
}

} // namespace

TEST_CASE("a plan as it is made has no faults") {
    Sound sound;
    for (const PlanFault& fault : sound.faults())
        FAIL_CHECK(in_words(fault));
    // The shoot has everything that is broken below.
    CHECK(sound["early"].kind == PlanStopKind::scene);
    CHECK(sound["wish"].kind == PlanStopKind::scene);
    CHECK(sound["lunch"].id == "node/301");
}

TEST_CASE("a stop moved ten minutes later is not where the leg before it ends") {
    Sound sound;
    move(sound["late"], minutes{10});
    const PlanFault fault = sound.fault("late", "arrive");
    CHECK(tells(fault.problem, "is not when the stop before is left and the leg here is done"));
    CHECK(fault.where == "day 1, stop " + std::to_string(sound.number("late") + 1) + ", Scene late at Spot late");
    CHECK(fault.value == geo::iso_text(sound["late"].arrive, sound.shoot.zone));
    CHECK(fault.should_be == geo::iso_text(sound["late"].arrive - minutes{10}, sound.shoot.zone));
}

TEST_CASE("times of a stop out of order are told") {
    Sound sound;
    sound["wish"].leave = sound["wish"].end - minutes{1};
    CHECK(tells(sound.fault("wish", "leave").problem, "is before its end"));
    sound = Sound();
    sound["wish"].start = sound["wish"].arrive - minutes{1};
    CHECK(tells(sound.fault("wish", "start").problem, "is before its arrive"));
}

TEST_CASE("a leg shorter than the quickest way is told, with what the way takes") {
    Sound sound;
    PlanStop& stop = sound["early"]; // 10 km at 54 km/h: 666.7 s, in whole seconds 667
    REQUIRE(stop.leg.van == geo::Seconds{667});
    stop.leg.van -= geo::Seconds{60};
    stop.leg.total -= geo::Seconds{60};
    const PlanFault fault = sound.fault("early", "leg/seconds");
    CHECK(fault.value == "607 s");
    CHECK(tells(fault.problem, "is less than the quickest way takes"));
    CHECK(tells(fault.should_be, "667 s"));
}

TEST_CASE("a leg longer than the quickest way is told too") {
    Sound sound;
    sound["early"].leg.van += geo::Seconds{2};
    sound["early"].leg.total += geo::Seconds{2};
    CHECK(tells(sound.fault("early", "leg/seconds").problem, "is more than the quickest way takes"));
}

TEST_CASE("seconds taken from the driving alone are a wait that nothing tells of") {
    Sound sound;
    sound["early"].leg.van -= geo::Seconds{60};
    sound["early"].leg.wait += geo::Seconds{60};
    CHECK(tells(sound.fault("early", "leg/van_seconds").problem, "another wait"));
    sound = Sound();
    sound["early"].leg.van += geo::Seconds{60};
    CHECK(tells(sound.fault("early", "leg/seconds").problem, "is less than its driving and walking together"));
}

TEST_CASE("a leg's length is that of its line, and its line leads from stop to stop") {
    Sound sound;
    sound["early"].leg.length += geo::Metres{500.0};
    CHECK(tells(sound.fault("early", "leg/metres").problem, "is not as long as its line"));
    sound = Sound();
    sound["early"].leg.line.back() = at_km(9.9);
    CHECK(tells(sound.fault("early", "leg/line").problem, "does not lead"));
}

TEST_CASE("a walk that does not fit where the van stands is told") {
    Sound sound;
    PlanStop& lunch = sound["lunch"]; // 20 m off the road
    REQUIRE(lunch.leg.walk_in.time == geo::Seconds{0});
    lunch.leg.walk_in.time = geo::Seconds{120};
    lunch.leg.total += geo::Seconds{120};
    const PlanFault fault = sound.fault("lunch", "leg/walk_in/seconds");
    CHECK(fault.value == "120 s");
    CHECK(fault.should_be == "0 s");
}

TEST_CASE("a van off the road is told") {
    Sound sound;
    sound["wish"].van_at.latitude.value += 0.01;
    CHECK_FALSE(sound.faults().empty());
    CHECK(tells(sound.fault_at("/days/0/stops/" + std::to_string(sound.number("wish")) + "/leg/line").problem, "lead"));
}

TEST_CASE("filming outside its light is told, with when the light begins or ends") {
    Sound sound;
    sound.shoot.locations[0].setup = minutes{0};
    PlanStop& early = sound["early"];
    early.start = at_clock(sound.shoot, 7, 50);
    early.end = at_clock(sound.shoot, 8, 50);
    const PlanFault fault = sound.fault("early", "start");
    CHECK(tells(fault.problem, "is outside its light"));
    CHECK(tells(fault.should_be, "T08:00:00+00:00 or later"));
    sound = Sound();
    sound["early"].start = at_clock(sound.shoot, 9, 20);
    sound["early"].end = at_clock(sound.shoot, 10, 20);
    CHECK(tells(sound.fault("early", "end").should_be, "T10:00:00+00:00 or earlier"));
    sound = Sound();
    // On the equator at the equinox the sun's upper edge sets at 18:11 by the sun's clock (equation of time -7.5 min,
    // refraction and radius 3.3 min; Astronomical Almanac); "day" is over well before ten at night.
    sound["wish"].start = at_clock(sound.shoot, 21, 0);
    sound["wish"].end = at_clock(sound.shoot, 21, 30);
    CHECK(tells(sound.fault("wish", "start").problem, "is outside its light (day)"));
}

TEST_CASE("light told longer than it lasts, or a sun told elsewhere, is told") {
    Sound sound;
    sound["early"].light->window.until += minutes{30};
    CHECK(tells(sound.fault("early", "light").should_be, "T10:00:00+00:00"));
    sound = Sound();
    sound["early"].light->altitude_end.value += 1.0;
    CHECK(tells(sound.fault("early", "light/sun_altitude/1").problem, "is not where the sun stands then"));
    sound = Sound();
    sound["early"].light->azimuth_start.value += 3.0;
    CHECK(tells(sound.fault("early", "light/sun_azimuth/0").problem, "is not where the sun stands then"));
}

TEST_CASE("too short a set-up, packing or filming is told") {
    Sound sound;
    sound["early"].arrive += minutes{7};
    CHECK(tells(sound.fault("early", "start").problem, "leaves less than the 10 min of set-up"));
    sound = Sound();
    sound["early"].leave = sound["early"].end + minutes{4};
    CHECK(tells(sound.fault("early", "leave").problem, "leaves less than the 5 min of packing"));
    sound = Sound();
    sound["early"].end -= minutes{1};
    CHECK(tells(sound.fault("early", "end").problem, "does not leave the 60 min of filming"));
}

TEST_CASE("filming while the location is shut is told") {
    Sound sound;
    sound.shoot.locations[1].open = "Mo-Su 14:45-16:00";
    const PlanFault fault = sound.fault("late", "start");
    CHECK(tells(fault.problem, "lies outside the location's hours (Mo-Su 14:45-16:00)"));
    sound.shoot.locations[1].open = "Mo-Fr 13:00-16:00"; // a Saturday
    CHECK(tells(sound.fault("late", "start").problem, "outside the location's hours"));
}

TEST_CASE("a scene's own limits and its order are kept") {
    Sound sound;
    sound.shoot.scenes[1].not_before = sound["late"].start + minutes{1};
    CHECK(tells(sound.fault("late", "start").problem, "is before the scene's not_before"));
    sound = Sound();
    sound.shoot.scenes[1].not_after = sound["late"].end - minutes{1};
    CHECK(tells(sound.fault("late", "end").problem, "is after the scene's not_after"));
    sound = Sound();
    sound.shoot.scenes[0].after = {1};
    sound.shoot.scenes[1].after = {};
    CHECK(tells(sound.fault("early", "id").problem, "is shot before scene late, which comes first"));
}

TEST_CASE("a meal outside its hours, too late after the call or at a closed place is told") {
    Sound sound;
    sound.shoot.meals[0].until = minutes{9 * 60};
    sound.shoot.meals[0].from = minutes{8 * 60};
    CHECK(tells(sound.fault("lunch", "end").should_be, "T09:00:00+00:00 or earlier"));
    sound.shoot.meals[0].from = minutes{15 * 60};
    sound.shoot.meals[0].until = minutes{17 * 60};
    CHECK(tells(sound.fault("lunch", "start").problem, "is before the meal's hours"));
    sound = Sound();
    sound.shoot.meals[0].within_of_call = minutes{30};
    CHECK(tells(sound.fault("lunch", "start").problem, "is too long after the call"));
    sound = Sound();
    move(sound["lunch"], std::chrono::hours{12});
    bool closed = false;
    for (const PlanFault& fault : sound.faults())
        closed = closed || fault.problem.find("has the crew eat while the map says closed") != std::string::npos;
    CHECK(closed);
    sound = Sound();
    sound["lunch"].end -= minutes{5};
    CHECK(tells(sound.fault("lunch", "end").problem, "does not leave the 45 min of the meal"));
    sound = Sound();
    sound["lunch"].id = "node/302";
    CHECK(tells(sound.fault("lunch", "id").problem, "is a guest house by the map"));
    CHECK(sound.fault("lunch", "id").should_be == "a café");
    sound["lunch"].id = "node/999";
    CHECK(tells(sound.fault("lunch", "id").problem, "is no place of the map"));
}

TEST_CASE("a meal that went missing is told, unless the plan warns of it") {
    Sound sound;
    sound.plan.days[0].stops.erase(sound.stops().begin() + static_cast<std::ptrdiff_t>(sound.number("lunch")));
    CHECK(tells(sound.fault_at("/days/0/stops").problem, "is a meal neither among the stops nor told"));
    sound.plan.warnings.push_back("lunch (11:00–14:00) on 2027-03-20 could not be fitted in: carry food");
    for (const PlanFault& fault : sound.faults())
        CHECK(fault.field != "/days/0/stops");
}

TEST_CASE("call, wrap and rest between days are kept") {
    Sound sound;
    sound.shoot.days[0].earliest_call = minutes{9 * 60};
    CHECK(tells(sound.fault_at("/days/0/call").problem, "is before the earliest call"));
    sound = Sound();
    sound.shoot.days[0].latest_wrap = minutes{14 * 60};
    CHECK(tells(sound.fault_at("/days/0/wrap").problem, "is after the latest wrap"));

    Shoot shoot = small_world::empty_shoot();
    add_scene(shoot, "night", 5, 60, clock(18, 19));
    shoot.scenes[0].not_after = at_clock(shoot, 24, 0);
    shoot.days.push_back({geo::next_date(shoot.days[0].date), minutes{6 * 60}, minutes{20 * 60}, {}, {}});
    add_scene(shoot, "morning", 5, 60, clock(6, 8));
    shoot.scenes[1].not_before = at_clock(shoot, 24, 0);
    const Plan made = plan_shoot(shoot, region(), {});
    REQUIRE(check_plan(made, shoot, region()).empty());
    shoot.crew.turnaround = minutes{14 * 60};
    const std::vector<PlanFault> faults = check_plan(made, shoot, region());
    REQUIRE(faults.size() == 1);
    CHECK(faults[0].field == "/days/1/call");
    CHECK(tells(faults[0].problem, "leaves too little rest after the wrap before"));
}

TEST_CASE("a day that does not start or end where it should is told") {
    Sound sound;
    sound.shoot.base->at = at_km(1);
    CHECK(tells(sound.fault_at("/days/0/stops/0/at").problem, "is not the base, where the day starts"));
    CHECK(
        tells(sound.fault_at("/days/0/stops/" + std::to_string(sound.stops().size() - 1) + "/at").problem, "day ends"));
}

TEST_CASE("beds are of the kinds asked for") {
    Shoot shoot = small_world::empty_shoot();
    add_scene(shoot, "day-one", 20, 60, clock(9, 17));
    add_scene(shoot, "day-two", 25, 60, clock(9, 17));
    shoot.days[0].end = DayEdge::bed;
    shoot.days.push_back({geo::next_date(shoot.days[0].date), minutes{6 * 60}, minutes{20 * 60}, DayEdge::bed, {}});
    shoot.lodging = small_world::beds({routing::places::PlaceKind::guest_house});
    const Plan made = plan_shoot(shoot, region(), {});
    REQUIRE(check_plan(made, shoot, region()).empty());
    shoot.lodging = small_world::beds({routing::places::PlaceKind::hotel});
    const std::vector<PlanFault> faults = check_plan(made, shoot, region());
    REQUIRE(!faults.empty());
    CHECK(faults[0].should_be == "a hotel");
    CHECK(tells(faults[0].problem, "is a guest house by the map"));
}

TEST_CASE("totals are sums") {
    Sound sound;
    sound.plan.days[0].drive += minutes{1};
    CHECK(tells(sound.fault_at("/days/0/drive_seconds").problem, "is not the sum of its legs"));
    sound = Sound();
    sound.plan.days[0].walk += minutes{1};
    sound.plan.days[0].distance += geo::Metres{100.0};
    sound.fault_at("/days/0/walk_seconds");
    sound.fault_at("/days/0/metres");
    sound = Sound();
    sound.plan.days[0].call -= minutes{1};
    CHECK(tells(sound.fault_at("/days/0/call").problem, "is not when the first stop is left"));
    sound = Sound();
    sound.plan.days[0].wrap -= minutes{1};
    CHECK(tells(sound.fault_at("/days/0/wrap").problem, "is not when the last stop is reached"));
    sound = Sound();
    sound.plan.worth += 1;
    CHECK(sound.fault_at("/proof/worth").should_be == std::to_string(sound.plan.worth - 1));
}

TEST_CASE("a leave-by that the next stop or the wrap does not allow is told") {
    Sound sound;
    PlanStop& early = sound["early"];
    early.leave_by += std::chrono::hours{8};
    early.slack = early.leave_by - early.leave;
    CHECK(tells(sound.fault("early", "leave_by").problem, "is too late for the stop after it"));
    sound = Sound();
    sound["early"].slack += minutes{5};
    CHECK(tells(sound.fault("early", "slack_seconds").problem, "is not the time from leave to leave_by"));
}

TEST_CASE("every scene is planned once or left out with a reason, and the result says so") {
    Sound sound;
    sound.stops().erase(sound.stops().begin() + static_cast<std::ptrdiff_t>(sound.number("late")));
    CHECK(tells(sound.fault_at("/days").problem, "is a must scene neither among the stops nor left out"));
    CHECK(sound.fault_at("/result").should_be == "partial");
    sound.plan.dropped.push_back({"late", "Scene late", true, ""});
    CHECK(tells(sound.fault_at("/dropped/0/why").problem, "gives no reason"));
    sound.plan.dropped.back().why = "no light";
    sound.plan.result = PlanResult::partial;
    for (const PlanFault& fault : sound.faults()) {
        CHECK(fault.field != "/result");
        CHECK(fault.field != "/days");
    }
    sound = Sound();
    sound.plan.dropped.push_back({"early", "Scene early", true, "why not"});
    CHECK(tells(sound.fault_at("/dropped/0/scene").problem, "is among the stops too"));
    sound = Sound();
    sound["wish"].id = "early";
    sound.stops()[sound.number("early") + 1].must = true;
    bool twice = false;
    for (const PlanFault& fault : sound.faults())
        twice = twice || fault.problem == "is shot a second time";
    CHECK(twice);
}

TEST_CASE("legs are checked by the hour while roads are shut for a time") {
    Shoot shoot = small_world::empty_shoot();
    add_scene(shoot, "far", 20, 60, clock(8, 20));
    routing::roads::Closure closure{routing::roads::Ways{{4}}, "ways 4"};
    closure.from = at_clock(shoot, 0, 0);
    closure.until = at_clock(shoot, 15, 0);
    shoot.closures = {closure};
    Plan made = plan_shoot(shoot, region(), {});
    for (const PlanFault& fault : check_plan(made, shoot, region()))
        FAIL_CHECK(in_words(fault));
    REQUIRE(made.days[0].stops.size() == 3);
    // Without the closure the way there is shorter: the same plan is then wrong.
    shoot.closures = {};
    bool told = false;
    for (const PlanFault& fault : check_plan(made, shoot, region()))
        told = told || fault.problem == "is more than the quickest way takes";
    CHECK(told);
    // And a plan made without it is wrong once the road is shut.
    const Plan open = plan_shoot(shoot, region(), {});
    shoot.closures = {closure};
    told = false;
    for (const PlanFault& fault : check_plan(open, shoot, region()))
        told = told || fault.problem == "is less than the quickest way takes";
    CHECK(told);
}

TEST_CASE("what is past in a re-plan is taken as told, the rest is checked") {
    Sound sound;
    Changes changes;
    changes.now = sound["early"].start + minutes{20};
    changes.late = minutes{15};
    changes.closures = {{routing::roads::Ways{{4}}, "ways 4"}};
    Plan again = replan(sound.shoot, region(), sound.plan, changes, {}).plan;
    for (const PlanFault& fault : check_plan(again, sound.shoot, region()))
        FAIL_CHECK(in_words(fault));
    auto& stops = again.days[0].stops;
    const auto late = std::find_if(stops.begin(), stops.end(), [](const PlanStop& s) { return s.id == "late"; });
    REQUIRE(late != stops.end());
    late->leg.van -= minutes{5};
    late->leg.total -= minutes{5};
    CHECK(!check_plan(again, sound.shoot, region()).empty());
}
