#include "routing/shoot/parking.hpp"

#include "both_judges.hpp"
#include "geo/geodesic.hpp"
#include "geo/input_error.hpp"
#include "routing/shoot/planner.hpp"
#include "routing/shoot/replan.hpp"
#include "routing/shoot/walking_pace.hpp"
#include "small_world.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <unistd.h>

using namespace routing::shoot;
namespace roads = routing::roads;
using std::chrono::minutes;

namespace {

/// Two valley roads that meet at the base only, a ridge between them with a path over it, and a car park in the north
/// valley. Degrees at the equator: 0.001 is 111 m.
const char* const valleys = R"(<?xml version='1.0' encoding='UTF-8'?>
<osm version="0.6">
<node id="1" version="1" lat="0.0" lon="0.0"/>
<node id="2" version="1" lat="0.0" lon="0.10"/>
<node id="3" version="1" lat="0.02" lon="0.10"/>
<node id="4" version="1" lat="0.02" lon="0.0"/>
<node id="5" version="1" lat="0.0" lon="0.09"/>
<node id="6" version="1" lat="0.02" lon="0.09"/>
<node id="7" version="1" lat="0.008" lon="0.09"/>
<node id="8" version="1" lat="0.0201" lon="0.0895"><tag k="amenity" v="parking"/><tag k="name" v="Ridge Car Park"/></node>
<way id="1" version="1"><nd ref="1"/><nd ref="5"/><nd ref="2"/><tag k="highway" v="secondary"/></way>
<way id="2" version="1"><nd ref="4"/><nd ref="6"/><nd ref="3"/><tag k="highway" v="secondary"/></way>
<way id="3" version="1"><nd ref="1"/><nd ref="4"/><tag k="highway" v="secondary"/></way>
<way id="4" version="1"><nd ref="5"/><nd ref="7"/><nd ref="6"/><tag k="highway" v="path"/></way>
</osm>
)";

Region loaded(const std::string& map) {
    const auto file = std::filesystem::temp_directory_path() / ("two_valleys_" + std::to_string(::getpid()) + ".osm");
    std::ofstream(file) << map;
    Region region = load_region(file.string(), {});
    std::filesystem::remove(file);
    return region;
}

/// The plan, which the product's own check finds nothing wrong with.
Plan sound_plan(const Shoot& shoot, const Region& region) {
    Plan plan = plan_shoot(shoot, region, {});
    for (const PlanFault& fault : check_plan(plan, shoot, region))
        FAIL_CHECK(in_words(fault));
    return plan;
}

const Region& two_valleys() {
    static const Region region = loaded(valleys);
    return region;
}

geo::Coordinate at(double latitude, double longitude) {
    return {geo::Degrees{latitude}, geo::Degrees{longitude}};
}

} // namespace

TEST_CASE("a load slows the walk as Pandolf's equation says") {
    // Derived once by hand from the published equation, 75 kg walker, level, hard ground; two decimals.
    CHECK(load_factor(0.0) == doctest::Approx(1.0));
    CHECK(load_factor(10.0) == doctest::Approx(0.93).epsilon(0.006));
    CHECK(load_factor(15.0) == doctest::Approx(0.90).epsilon(0.006));
    CHECK(load_factor(20.0) == doctest::Approx(0.86).epsilon(0.006));
    CHECK(load_factor(30.0) == doctest::Approx(0.78).epsilon(0.007));
    // Tobler 1993: 5.04 km/h on the level.
    CHECK(walking_time(3'600'000, 0.0).count() == doctest::Approx(3600.0 * 4.0 / 5.037).epsilon(0.001));
    for (int load = 1; load <= 60; ++load)
        CHECK(load_factor(load) < load_factor(load - 1));
}

TEST_CASE("places on both sides of a ridge are offered, each with its own walk") {
    const Crew crew{};
    const ClosedRoads none;
    ParkingFinder parking(two_valleys(), crew, none);
    const auto choices = parking.choices(at(0.008, 0.09)); // on the path, nearer to the south valley
    REQUIRE(choices.size() == 2);
    CHECK(geo::distance(choices[0].road.at, at(0.0, 0.09)) < geo::Metres{1.0});
    CHECK(choices[1].car_park == "Ridge Car Park");
    CHECK(choices[0].walk.time < choices[1].walk.time);
    // 0.008 degrees of latitude are 884.6 m; 5.04 km/h x 0.90.
    CHECK(choices[0].walk.time.count() == doctest::Approx(884.6 / (5.037 / 3.6 * load_factor(15.0))).epsilon(0.002));
    for (const StopPoint& choice : choices) {
        CHECK(choice.walk.line.front() == choice.road.at);
        CHECK(choice.walk.line.back() == at(0.008, 0.09));
    }
}

TEST_CASE("a shut road is no place to leave the van, and a shorter walk limit leaves the far side out") {
    Crew crew{};
    ClosedRoads shut;
    shut.edges.resize(two_valleys().network->edges.size(), false);
    for (std::size_t edge = 0; edge < shut.edges.size(); ++edge)
        shut.edges[edge] = two_valleys().network->edges[edge].way == 1;
    ParkingFinder north(two_valleys(), crew, shut);
    const auto choices = north.choices(at(0.008, 0.09));
    REQUIRE(choices.size() == 1);
    CHECK(choices[0].car_park == "Ridge Car Park");
    crew.max_walk = minutes{15};
    const ClosedRoads none;
    CHECK(ParkingFinder(two_valleys(), crew, none).choices(at(0.008, 0.09)).size() == 1);
    crew.max_walk = minutes{5};
    CHECK(ParkingFinder(two_valleys(), crew, none).choices(at(0.008, 0.09)).empty());
}

TEST_CASE("a walk the map knows is told as it is, however much too long, and never estimated shorter") {
    Shoot shoot = small_world::empty_shoot();
    shoot.base = NamedPoint{"Base", at(0.0, 0.0)};
    small_world::add_scene(shoot, "a", 0, 30, small_world::clock(9, 18));
    shoot.locations[0].at = at(0.008, 0.09); // 12 minutes by the path
    shoot.crew.max_walk = minutes{11};
    std::string message;
    try {
        sound_plan(shoot, two_valleys());
    } catch (const geo::InputError& error) {
        message = error.what();
    }
    CHECK(small_world::says(message, "is 12 min on foot from the nearest place the van can stop, 0.00000,0.09000 "
                                     "(crew.walk.max_minutes is 11)"));
}

TEST_CASE("a place on a road the crew would keep off does not put out one that is not") {
    std::string text = valleys; // an unpaved lane runs up to the spot's side of the valley
    text.insert(text.find("<way id=\"1\""), "<node id=\"9\" version=\"1\" lat=\"0.004\" lon=\"0.09\"/>");
    text.replace(text.find("<nd ref=\"5\"/><nd ref=\"7\"/>"), 30, "<nd ref=\"5\"/><nd ref=\"9\"/><nd ref=\"7\"/>");
    text.insert(text.find("<way id=\"4\""),
                "<way id=\"5\" version=\"1\"><nd ref=\"5\"/><nd ref=\"9\"/>"
                "<tag k=\"highway\" v=\"unclassified\"/><tag k=\"surface\" v=\"gravel\"/></way>");
    const Region region = loaded(text);
    Shoot shoot = small_world::empty_shoot();
    shoot.base = NamedPoint{"Base", at(0.0, 0.0)};
    small_world::add_scene(shoot, "a", 0, 30, small_world::clock(9, 18));
    shoot.locations[0].at = at(0.008, 0.09);
    const Plan plan = sound_plan(shoot, region);
    CHECK(geo::distance(plan.days[0].stops.at(1).van_at, at(0.004, 0.09)) < geo::Metres{1.0});
    shoot.crew.avoid = {AvoidedKind::unpaved};
    const Plan paved = sound_plan(shoot, region);
    CHECK(geo::distance(paved.days[0].stops.at(1).van_at, at(0.0, 0.09)) < geo::Metres{1.0});
    CHECK(std::none_of(paved.warnings.begin(), paved.warnings.end(),
                       [](const std::string& warning) { return small_world::holds(warning, "set aside"); }));
}

TEST_CASE("places around one block are one choice") {
    const ClosedRoads none;
    const auto choices = ParkingFinder(two_valleys(), {}, none).choices(at(0.0005, 0.0905)); // 55 m off a road
    CHECK(choices.size() == 1);
}

TEST_CASE("the plan leaves the van where drive and walk together are least") {
    Shoot shoot = small_world::empty_shoot();
    shoot.base = NamedPoint{"Base", at(0.0, 0.0)};
    small_world::add_scene(shoot, "a", 0, 30, small_world::clock(9, 18));
    shoot.locations[0].at = at(0.008, 0.09);
    const Plan alone = sound_plan(shoot, two_valleys());
    const PlanStop& south = alone.days[0].stops.at(1);
    CHECK(geo::distance(south.van_at, at(0.0, 0.09)) < geo::Metres{1.0});
    CHECK(south.leg.walk_in.time == south.leg.walk());
    CHECK(alone.days[0].stops.at(2).leg.walk_out.time == south.leg.walk_in.time);
    CHECK(alone.days[0].stops.at(2).leg.walk_out.line.front() == shoot.locations[0].at);

    // Half a minute after a scene at the car park, the longer walk from there beats driving round.
    small_world::add_scene(shoot, "b", 0, 30, small_world::clock(9, 18));
    shoot.locations[1].at = at(0.02, 0.0895);
    const Plan both = sound_plan(shoot, two_valleys());
    for (const PlanStop& stop : both.days[0].stops)
        if (stop.id == "a")
            CHECK(stop.parking == "Ridge Car Park");
}

namespace {

roads::Closure path_shut(std::vector<roads::OsmId> ways) {
    roads::Closure closure{roads::Ways{std::move(ways)}, "the path"};
    closure.van = false;
    closure.foot = true;
    return closure;
}

Shoot shoot_on_the_ridge() {
    Shoot shoot = small_world::empty_shoot();
    shoot.base = NamedPoint{"Base", at(0.0, 0.0)};
    small_world::add_scene(shoot, "a", 0, 30, small_world::clock(9, 18));
    shoot.locations[0].at = at(0.008, 0.09);
    return shoot;
}

bool is_warned(const Plan& plan, const std::string& part) {
    return std::any_of(plan.warnings.begin(), plan.warnings.end(),
                       [&](const std::string& warning) { return small_world::holds(warning, part); });
}

} // namespace

TEST_CASE("a path shut on foot leaves the van its road, and the location is cut off, not walked to across country") {
    Shoot shoot = shoot_on_the_ridge();
    const Plan open = sound_plan(shoot, two_valleys());
    CHECK(open.result == PlanResult::optimal);
    shoot.closures = {path_shut({4})};
    const Plan shut = sound_plan(shoot, two_valleys());
    CHECK(shut.result == PlanResult::partial);
    REQUIRE(shut.dropped.size() == 1);
    CHECK(small_world::says(shut.dropped[0].why, "cut off on foot by the closures"));
    CHECK(is_warned(shut, "closed on foot for the whole plan: way 4"));
}

TEST_CASE("a road shut on foot only is driven, one shut for the van only is walked along") {
    Shoot shoot = shoot_on_the_ridge();
    shoot.closures = {path_shut({1})};
    CHECK(sound_plan(shoot, two_valleys()).result == PlanResult::optimal);
    const ClosedRoads on_foot = close_roads(shoot, {}, two_valleys());
    CHECK(on_foot.edges.empty());
    CHECK(std::count(on_foot.foot.begin(), on_foot.foot.end(), true) == 2);
    shoot.closures[0].van = true;
    const ClosedRoads both = close_roads(shoot, {}, two_valleys());
    CHECK(both.descriptions.size() == 2);
    CHECK(std::count(both.edges.begin(), both.edges.end(), true) >= 1);
    shoot.closures[0].foot = false;
    CHECK(close_roads(shoot, {}, two_valleys()).foot.empty());
}

namespace {

const PlanStop& only_scene(const Plan& plan) {
    const auto& stops = plan.days.at(0).stops;
    return *std::find_if(stops.begin(), stops.end(), [](const PlanStop& s) { return s.kind == PlanStopKind::scene; });
}

std::string all_notes(const Plan& plan) {
    std::string all;
    for (const PlanStop& stop : plan.days.at(0).stops)
        for (const std::string& note : stop.notes)
            all += note + "; ";
    return all;
}

} // namespace

TEST_CASE("walks in darkness are slower, and told") {
    Shoot shoot = shoot_on_the_ridge();
    shoot.days[0].latest_wrap = std::chrono::hours{23};
    shoot.locations[0].setup = minutes{10};
    shoot.locations[0].pack = minutes{5};
    const auto made = [&](const geo::LightRequest& light) {
        shoot.scenes[0].options[0].light = {light};
        return sound_plan(shoot, two_valleys());
    };
    const Plan by_day = made(small_world::clock(9, 12));
    CHECK_FALSE(small_world::holds(all_notes(by_day), "darkness"));
    const PlanStop& day = only_scene(by_day);
    const Plan by_night = made(small_world::clock(20, 21)); // the sun sets soon after six
    const PlanStop& night = only_scene(by_night);
    CHECK(small_world::says(all_notes(by_night), "the walk in is in darkness, reckoned slower: carry lights, look at"));
    CHECK(small_world::says(all_notes(by_night), "the walk back to the van before it is in darkness"));
    REQUIRE(day.leg.walk_in.time > minutes{5});
    // Four thirds of the time, to the second above.
    CHECK(night.leg.walk_in.time * 3 >= day.leg.walk_in.time * 4);
    CHECK(night.leg.walk_in.time * 3 <= day.leg.walk_in.time * 4 + geo::Seconds{4});
    CHECK(night.arrive + minutes{10} <= night.start);
    const PlanStop& home = by_night.days[0].stops.back();
    CHECK(home.leg.walk_out.time * 3 >= by_day.days[0].stops.back().leg.walk_out.time * 4);
    CHECK(night.leave == night.end + minutes{5});
    CHECK(home.arrive == night.leave + home.leg.total);
    // Back at the van when it turns dark: in by day, out by night.
    const Plan at_dusk = made(small_world::clock(17, 18));
    CHECK(only_scene(at_dusk).leg.walk_in.time == day.leg.walk_in.time);
}

TEST_CASE("paths hard to see are not walked in darkness, unless the crew knows them") {
    std::string map = valleys;
    const std::string path = R"(<tag k="highway" v="path"/>)";
    map.replace(map.find(path), path.size(), path + R"(<tag k="trail_visibility" v="bad"/>)");
    const Region region = loaded(map);
    Shoot shoot = shoot_on_the_ridge();
    shoot.days[0].latest_wrap = std::chrono::hours{23};
    const auto made = [&](const geo::LightRequest& light) {
        shoot.scenes[0].options[0].light = {light};
        return sound_plan(shoot, region);
    };
    CHECK(made(small_world::clock(9, 12)).result == PlanResult::optimal);
    const Plan night = made(small_world::clock(20, 21));
    REQUIRE(night.result == PlanResult::partial);
    CHECK(small_world::says(night.dropped.at(0).why, "hard to see"));
    // From three to eight: what is filmed and left by dusk.
    const Plan before_dusk = made(small_world::clock(15, 20));
    CHECK(before_dusk.result == PlanResult::optimal);
    CHECK_FALSE(small_world::holds(all_notes(before_dusk), "darkness"));
    shoot.locations[0].walk_in_darkness = true;
    const std::string notes = all_notes(made(small_world::clock(20, 21)));
    CHECK(small_world::says(notes, "carry lights, and do not walk it unless you know it by day"));
    CHECK(small_world::says(notes, "the map calls its path hard to see"));
}

TEST_CASE("a closure for van and foot may lie on the path alone; one that lies on neither is refused") {
    Shoot shoot = shoot_on_the_ridge();
    shoot.closures = {path_shut({4})};
    shoot.closures[0].van = true;
    CHECK(close_roads(shoot, {}, two_valleys()).descriptions.size() == 1);
    shoot.closures = {path_shut({99})};
    CHECK_THROWS_WITH_AS(close_roads(shoot, {}, two_valleys()),
                         doctest::Contains("matches no path that may be walked of"), geo::InputError);
    shoot.closures[0].van = true;
    CHECK_THROWS_WITH_AS(close_roads(shoot, {}, two_valleys()), doctest::Contains("matches no road or path of"),
                         geo::InputError);
}

TEST_CASE("a path shut for a time is kept off for the whole plan, and that is said") {
    Shoot shoot = shoot_on_the_ridge();
    shoot.closures = {path_shut({4})};
    shoot.closures[0].from = small_world::at_clock(shoot, 10, 0);
    shoot.closures[0].until = small_world::at_clock(shoot, 11, 0);
    const Plan shut = sound_plan(shoot, two_valleys());
    CHECK(shut.result == PlanResult::partial);
    CHECK(is_warned(shut, "closed on foot 2027-03-20 10:00 to 11:00, and kept off for the whole plan: way 4"));
    shoot.closures[0].until = small_world::at_clock(shoot, 5, 0);
    shoot.closures[0].from.reset();
    CHECK(sound_plan(shoot, two_valleys()).result == PlanResult::optimal);
}

TEST_CASE("a crew at a location when the path to it is shut finishes there and walks out to its van") {
    Shoot shoot = shoot_on_the_ridge();
    small_world::add_scene(shoot, "b", 0, 30, small_world::clock(14, 15));
    shoot.locations[1].at = at(0.0, 0.05);
    const Plan old = sound_plan(shoot, two_valleys());
    REQUIRE(old.result == PlanResult::optimal);

    Changes changes;
    changes.now = small_world::at_clock(shoot, 9, 10);
    changes.closures = {path_shut({4})};
    const Replan again = replan(shoot, two_valleys(), old, changes, {});
    for (const PlanFault& fault : check_plan(again.plan, shoot, two_valleys()))
        FAIL_CHECK(in_words(fault));
    CHECK(again.plan.dropped.empty());
    // 885 m, times 1.4, at 4 km/h: 18 min 34 s.
    CHECK(is_warned(again.plan, "the crew stands where closures on foot cut it off: 19 min are reckoned"));
    const auto& stops = again.plan.days[0].stops;
    REQUIRE(stops.size() == 4);
    CHECK(stops[2].id == "b");
    CHECK(stops[2].leg.walk_out.time > minutes{10});
    CHECK(stops[3].id == "base");
}
