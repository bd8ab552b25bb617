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
using small_world::tag;
using std::chrono::minutes;

namespace {

using Texts = std::vector<std::string>;

const std::string road_tags = tag("highway", "primary") + tag("maxspeed", "60");
const std::string toll = road_tags + tag("toll", "yes");
const std::string gravel = road_tags + tag("surface", "gravel");
const std::string ferry = tag("route", "ferry") + tag("motor_vehicle", "yes") + tag("duration", "00:05");

const std::string slow = tag("highway", "primary") + tag("maxspeed", "20"); // so that even a ferry is quicker

constexpr const char* set_aside = "is set aside for the whole plan";

/// The sentences on wishes among a plan's warnings.
Texts said(const Plan& plan) {
    Texts texts;
    for (const std::string& warning : plan.warnings)
        if (small_world::holds(warning, "wish to avoid"))
            texts.push_back(warning);
    return texts;
}

Plan plan(const Shoot& shoot, const Region& region) {
    const Plan made = plan_shoot(shoot, region, {});
    for (const std::string& fault : faults_by_both(made, shoot, region))
        FAIL_CHECK(fault);
    return made;
}

/// Notes of all roads the plan drives, and how far it drives.
std::pair<int, double> driven(const Plan& plan) {
    int notes = 0;
    double metres = 0.0;
    for (const PlanDay& day : plan.days)
        for (const PlanStop& stop : day.stops) {
            for (const routing::roads::RoadStretch& road : stop.leg.roads)
                notes |= road.notes;
            metres += stop.leg.length.value;
        }
    return {notes, metres};
}

/// A scene at each of these kilometres, in any order.
Shoot shoot_at(std::initializer_list<double> kilometres, std::vector<AvoidedKind> avoid) {
    Shoot shoot = small_world::empty_shoot();
    for (const double km : kilometres)
        add_scene(shoot, std::to_string(static_cast<int>(km)), km, 30, clock(7, 19));
    shoot.crew.avoid = std::move(avoid);
    return shoot;
}

} // namespace

TEST_CASE("an avoided kind of road is driven round, whatever it costs, and the legs drawn keep off it") {
    const std::tuple<AvoidedKind, std::string, int> kinds[] = {
        {AvoidedKind::tolls, toll, routing::roads::note_toll},
        {AvoidedKind::ferries, ferry, routing::roads::note_ferry},
        {AvoidedKind::unpaved, gravel, routing::roads::note_unpaved}};
    for (const auto& [kind, tags, note] : kinds) {
        CAPTURE(note);
        const Region region = small_world::load_with({{4, tags}, {7, slow}}); // km 15 to 20
        const auto [open_notes, open_metres] = driven(plan(shoot_at({22}, {}), region));
        CHECK((open_notes & note) != 0);
        CHECK(open_metres == doctest::Approx(44'000).epsilon(0.001)); // there and back by Long Road
        const Plan kept = plan(shoot_at({22}, {kind}), region);
        CHECK((driven(kept).first & note) == 0);
        CHECK(driven(kept).second == doctest::Approx(64'000).epsilon(0.005)); // Loop Lane is 10 km longer
        CHECK(said(kept).empty());
        // Another wish does not touch it.
        const auto other = kind == AvoidedKind::tolls ? AvoidedKind::ferries : AvoidedKind::tolls;
        CHECK(driven(plan(shoot_at({22}, {other}), region)) == std::pair{open_notes, open_metres});
    }
}

TEST_CASE("a wish that cuts a stop off is set aside for the whole plan, with the stop named") {
    const Region region = small_world::load_with({{4, gravel}, {6, gravel}});
    const Plan made = plan(shoot_at({22, 28}, {AvoidedKind::unpaved}), region);
    CHECK(made.result == PlanResult::optimal);
    CHECK(said(made) == Texts{"the wish to avoid unpaved roads is set aside for the whole plan: no other way to and "
                              "from Spot 28"});
    CHECK(driven(made).second == doctest::Approx(56'000).epsilon(0.001)); // by the gravel at km 15 as well
    CHECK(said(plan(shoot_at({22}, {AvoidedKind::unpaved}), region)).empty());
    SUBCASE("a location that no scene uses needs nothing") {
        Shoot shoot = shoot_at({22}, {AvoidedKind::unpaved});
        shoot.locations.push_back({.id = "spare", .name = "Spare", .at = at_km(28)});
        CHECK(said(plan(shoot, region)).empty());
    }
    SUBCASE("a fixed meal needs its road") {
        Shoot shoot = shoot_at({22}, {AvoidedKind::unpaved});
        shoot.meals = {small_world::lunch(std::chrono::hours{11}, std::chrono::hours{14})};
        shoot.meals[0].where = MealWhere::fixed;
        shoot.meals[0].kinds = {};
        shoot.meals[0].fixed = {"Far Kitchen", at_km(28)};
        const Texts texts = said(plan(shoot, region));
        REQUIRE(texts.size() == 1);
        CHECK(small_world::says(texts[0], "to and from Far Kitchen"));
    }
}

TEST_CASE("only the wish that is to blame is set aside, the others hold") {
    const Region region = small_world::load_with({{4, toll}, {6, gravel}});
    const Plan made = plan(shoot_at({22, 28}, {AvoidedKind::unpaved, AvoidedKind::tolls}), region);
    REQUIRE(said(made).size() == 1);
    CHECK(small_world::says(said(made)[0], "unpaved roads is set aside"));
    CHECK((driven(made).first & routing::roads::note_toll) == 0);
    CHECK((driven(made).first & routing::roads::note_unpaved) != 0);
}

TEST_CASE("two wishes are set aside where two are needed, each naming its stops") {
    const Region region = small_world::load_with({{4, toll}, {5, ferry}, {6, gravel}});
    const Plan made =
        plan(shoot_at({18, 25, 28}, {AvoidedKind::tolls, AvoidedKind::ferries, AvoidedKind::unpaved}), region);
    // Spot 18 stands on the toll road: all three.
    CHECK(said(made) ==
          Texts{"the wish to avoid toll roads is set aside for the whole plan: no other way to and from Spot 18",
                "the wish to avoid ferries is set aside for the whole plan: no other way to and from Spot 25 and Spot "
                "28",
                "the wish to avoid unpaved roads is set aside for the whole plan: no other way to and from Spot 28"});
    const Plan two =
        plan(shoot_at({12, 25, 28}, {AvoidedKind::tolls, AvoidedKind::ferries, AvoidedKind::unpaved}), region);
    CHECK(said(two).size() == 2);
    CHECK((driven(two).first & routing::roads::note_toll) == 0);
}

TEST_CASE("of two wishes either of which would do, the first in the order goes") {
    const Region region = small_world::load_with({{4, toll}, {7, ferry}});
    const Plan made = plan(shoot_at({22}, {AvoidedKind::ferries, AvoidedKind::tolls}), region);
    REQUIRE(said(made).size() == 1);
    CHECK(small_world::says(said(made)[0], "the wish to avoid toll roads is set aside"));
    CHECK((driven(made).first & routing::roads::note_ferry) == 0);
}

TEST_CASE("a stop on an avoided road needs it, one at a junction with another road does not") {
    const Region region = small_world::load_with({{4, gravel}});
    const Plan on_it = plan(shoot_at({18, 22}, {AvoidedKind::unpaved}), region);
    CHECK(said(on_it).size() == 1);
    CHECK(small_world::says(said(on_it).at(0), "to and from Spot 18"));
    CHECK(on_it.dropped.empty());
    for (const double km : {15.0, 20.0}) {
        CAPTURE(km);
        const Plan beside = plan(shoot_at({km, 22}, {AvoidedKind::unpaved}), region);
        CHECK(said(beside).empty());
        CHECK(beside.dropped.empty());
        CHECK((driven(beside).first & routing::roads::note_unpaved) == 0);
    }
    SUBCASE("a base on it is named, not what is reached from there") {
        Shoot shoot = shoot_at({5, 28}, {AvoidedKind::unpaved});
        shoot.base->at = at_km(17);
        const Plan made = plan(shoot, region);
        REQUIRE(said(made).size() == 1);
        CHECK(small_world::says(said(made)[0], "to and from Base"));
        CHECK(made.dropped.empty());
    }
}

TEST_CASE("a found place that only an avoided road reaches is not offered, but some bed must be") {
    const Region region = small_world::load_with({{3, gravel}, {6, gravel}}); // café at 14, inn at 26, hotel at 29
    Shoot shoot = small_world::empty_shoot();
    add_scene(shoot, "am", 5, 60, clock(10, 12));
    add_scene(shoot, "pm", 22, 60, clock(13, 15));
    shoot.crew.avoid = {AvoidedKind::unpaved};
    shoot.meals = {small_world::lunch(std::chrono::hours{11}, std::chrono::hours{14})};
    const Plan hungry = plan(shoot, region);
    CHECK(said(hungry).empty());
    CHECK(std::any_of(hungry.warnings.begin(), hungry.warnings.end(), [](const std::string& warning) {
        return small_world::holds(warning, "lunch") && small_world::holds(warning, "could not be fitted in");
    }));
    shoot.crew.avoid = {};
    CHECK(driven(plan(shoot, region)).first == routing::roads::note_unpaved);

    const Region inn_only = small_world::load_with({{6, gravel}});
    const auto paved_inn = small_world::load_with({{4, gravel}});
    Shoot nights = shoot_at({22}, {AvoidedKind::unpaved});
    nights.days[0].end = DayEdge::bed;
    nights.lodging = small_world::beds({routing::places::PlaceKind::guest_house, routing::places::PlaceKind::hotel});
    CHECK(said(plan(nights, paved_inn)).empty());
    const Texts texts = said(plan(nights, inn_only));
    REQUIRE(texts.size() == 1);
    CHECK(small_world::says(texts[0], "to and from a bed for the night"));
    nights.lodging->find = false;
    nights.lodging->fixed = {"Cottage", at_km(27)};
    const Texts fixed = said(plan(nights, inn_only));
    REQUIRE(fixed.size() == 1);
    CHECK(small_world::says(fixed[0], "to and from Cottage"));
}

TEST_CASE("closures count first: a wish yields to them, and is not blamed for what they cut off") {
    const Region region = small_world::load_with({{4, gravel}});
    Shoot shoot = shoot_at({22}, {AvoidedKind::unpaved});
    shoot.closures = {{routing::roads::Ways{{7}}, "way 7"}};
    const Plan by_gravel = plan(shoot, region);
    CHECK(said(by_gravel).size() == 1);
    CHECK(by_gravel.dropped.empty());
    shoot.closures.push_back({routing::roads::Ways{{5}}, "way 5"}); // where the scene is
    const Plan cut = plan(shoot, region);
    CHECK(said(cut).empty());
    REQUIRE(cut.dropped.size() == 1);
    CHECK(small_world::says(cut.dropped[0].why, "cut off by the closures"));
}

TEST_CASE("a re-plan keeps the wishes, sets the same ones aside, and changes nothing by itself") {
    for (const bool needs_gravel : {false, true}) {
        CAPTURE(needs_gravel);
        const Region region =
            needs_gravel ? small_world::load_with({{4, gravel}, {6, gravel}}) : small_world::load_with({{4, gravel}});
        Shoot shoot = small_world::empty_shoot();
        add_scene(shoot, "early", 28, 30, clock(8, 10));
        add_scene(shoot, "noon", 5, 30, clock(11, 13));
        add_scene(shoot, "late", 22, 30, clock(15, 17));
        shoot.crew.avoid = {AvoidedKind::unpaved};
        const Plan made = plan(shoot, region);
        for (int hour = 6; hour < 18; ++hour) {
            CAPTURE(hour);
            Changes changes;
            changes.now = at_clock(shoot, hour, 10);
            const Plan again = replan(shoot, region, made, changes, {}).plan;
            CHECK(said(again).size() == (needs_gravel ? 1 : 0)); // while on gravel it names the crew's spot as well
            CHECK((!needs_gravel || small_world::says(said(again).at(0), "to and from Spot early")));
            CHECK(again.dropped.empty());
            CHECK(driven(again).second == doctest::Approx(driven(made).second).epsilon(1e-6));
            CHECK(again.days[0].wrap == made.days[0].wrap);
        }
    }
    SUBCASE("a closure on the day may cost a wish") {
        const Region region = small_world::load_with({{4, gravel}});
        const Shoot shoot = shoot_at({22}, {AvoidedKind::unpaved});
        const Plan made = plan(shoot, region);
        Changes changes;
        changes.now = made.days[0].call - minutes{5};
        changes.closures = {{routing::roads::Ways{{7}}, "way 7"}};
        const Plan again = replan(shoot, region, made, changes, {}).plan;
        CHECK(again.dropped.empty());
        REQUIRE(said(again).size() == 1);
        CHECK(small_world::says(said(again)[0], set_aside));
    }
    SUBCASE("a crew that stands on such a road may drive on") {
        const Region region = small_world::load_with({{4, gravel}});
        const Shoot shoot = shoot_at({22}, {AvoidedKind::unpaved});
        Changes changes;
        const Plan made = plan(shoot, region);
        changes.now = made.days[0].call + minutes{10};
        changes.at = at_km(17);
        const Plan again = replan(shoot, region, made, changes, {}).plan;
        CHECK(again.dropped.empty());
        REQUIRE(said(again).size() == 1);
        CHECK(small_world::says(said(again)[0], "to and from where the crew is"));
    }
}
