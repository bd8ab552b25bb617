#include "small_world.hpp"

#include "geo/input_error.hpp"
#include "routing/shoot/nearby_places.hpp"
#include "routing/shoot/nearest_ward.hpp"
#include "routing/shoot/planner.hpp"

#include <doctest/doctest.h>

using namespace routing::shoot;
using routing::places::PlaceKind;
using small_world::at_km;
using small_world::region;
using std::chrono::minutes;

namespace {

/// The world with a hospital at km 5 without, and one at km 30 with an emergency ward.
Region with_hospitals() {
    Region map = small_world::load();
    for (const bool ward : {false, true}) {
        routing::places::Place hospital;
        hospital.object = {routing::roads::OsmType::node, ward ? 402 : 401};
        hospital.kind = PlaceKind::hospital;
        hospital.name = ward ? "Ward at 30" : "Ward-less at 5";
        hospital.at = at_km(ward ? 30 : 5);
        hospital.emergency = ward;
        map.places.push_back(hospital);
    }
    return map;
}

} // namespace

TEST_CASE("a place on the way costs no detour, one behind costs there and back") {
    const Shoot shoot = small_world::empty_shoot();
    // 54 km/h is 15 m/s: 14 km in 933.3 s, 26 km in 1733.3 s, 20 km in 1333.3 s.
    const Nearby on_the_way =
        nearby_places({.from = at_km(0), .then = at_km(20), .kinds = {PlaceKind::cafe}}, shoot, region());
    REQUIRE(on_the_way.places.size() == 1);
    CHECK(on_the_way.straight == geo::Seconds{1334});
    CHECK(on_the_way.places[0].there == geo::Seconds{934});
    CHECK(on_the_way.places[0].detour <= geo::Seconds{1}); // three times rounded up
    CHECK(on_the_way.places[0].length.value == doctest::Approx(14000).epsilon(0.001));
    const Nearby behind = nearby_places({.from = at_km(20), .then = at_km(10), .kinds = {PlaceKind::guest_house}},
                                        shoot, region()); // 6 km on and back again
    REQUIRE(behind.places.size() == 1);
    CHECK(behind.places[0].there == geo::Seconds{400});
    CHECK(std::abs((behind.places[0].detour - geo::Seconds{800}).count()) <= 2);
}

TEST_CASE("places come by detour, no farther than asked, as many as asked") {
    const Shoot shoot = small_world::empty_shoot();
    const Nearby all = nearby_places({.from = at_km(25)}, shoot, region());
    REQUIRE(all.places.size() == 3);
    CHECK(region().places[all.places[0].place].name == "Inn at 26");
    CHECK(region().places[all.places[1].place].name == "Hotel at 29");
    CHECK(region().places[all.places[2].place].name == "Halfway Cups");
    CHECK(nearby_places({.from = at_km(25), .within = minutes{5}}, shoot, region()).places.size() == 2);
    const Nearby one = nearby_places({.from = at_km(25), .most = 1}, shoot, region());
    CHECK(one.places.size() == 1);
    CHECK(one.more == 2);
}

TEST_CASE("a closure is gone round, and counts at its hours when a time is given") {
    Shoot shoot = small_world::empty_shoot();
    routing::roads::Closure closure{routing::roads::Ways{{4}}, "ways 4"}; // km 15 to 20
    closure.from = small_world::at_clock(shoot, 10, 0);
    closure.until = small_world::at_clock(shoot, 12, 0);
    shoot.closures = {closure};
    const auto drive = [&](std::optional<Instant> at) {
        return nearby_places({.from = at_km(10), .kinds = {PlaceKind::guest_house}, .at = at}, shoot, region())
            .places.at(0)
            .there;
    };
    CHECK(drive({}) == geo::Seconds{1067}); // 16 km
    CHECK(drive(small_world::at_clock(shoot, 12, 0)) == geo::Seconds{1067});
    CHECK(drive(small_world::at_clock(shoot, 11, 0)) > geo::Seconds{1400}); // by the north
}

TEST_CASE("a place only an avoided road reaches is told as such") {
    const Region tolled =
        small_world::load_with({{6, small_world::tag("highway", "primary") + small_world::tag("maxspeed", "60") +
                                        small_world::tag("toll", "yes")}});
    Shoot shoot = small_world::empty_shoot();
    shoot.crew.avoid = {AvoidedKind::tolls};
    const Nearby found = nearby_places({.from = at_km(20)}, shoot, tolled);
    REQUIRE(found.places.size() == 3);
    for (const NearbyPlace& place : found.places)
        CHECK(place.by_avoided_road == (tolled.places[place.place].kind != PlaceKind::cafe));
}

TEST_CASE("a spot off the map is a fault of its option") {
    const Shoot shoot = small_world::empty_shoot();
    const geo::Coordinate nowhere{geo::Degrees{10.0}, geo::Degrees{10.0}};
    for (const bool then : {false, true}) {
        NearbyWish wish{.from = then ? at_km(0) : nowhere};
        if (then)
            wish.then = nowhere;
        std::string said;
        try {
            nearby_places(wish, shoot, region());
        } catch (const geo::InputError& error) {
            said = error.what();
        }
        CHECK(
            small_world::says(said, std::string(then ? "--then" : "--near") + ": \"10.00000,10.00000\" is over 5 km"));
    }
}

TEST_CASE("hospitals with an emergency ward come first when help is asked for") {
    const Region map = with_hospitals();
    const Shoot shoot = small_world::empty_shoot();
    const auto first = [&](bool wards_first) {
        const Nearby found =
            nearby_places({.from = at_km(0), .kinds = {PlaceKind::hospital}, .wards_first = wards_first}, shoot, map);
        return map.places[found.places.at(0).place].name;
    };
    CHECK(first(true) == "Ward at 30");
    CHECK(first(false) == "Ward-less at 5");
}

TEST_CASE("each location filmed at has its nearest emergency ward, by road, or is told to have none") {
    const Region map = with_hospitals();
    Shoot shoot = small_world::empty_shoot();
    small_world::add_scene(shoot, "a", 15, 30, small_world::clock(8, 9));
    small_world::add_scene(shoot, "b", 25, 30, small_world::clock(11, 12));
    const Plan plan = plan_shoot(shoot, map, {});
    const auto wards = nearest_wards(plan, shoot, map);
    REQUIRE(wards.size() == 2);
    CHECK(wards[0].from == "Spot a");
    CHECK(wards[0].name == "Ward at 30");
    CHECK(wards[0].id == "node/402");
    CHECK(wards[0].drive >= geo::Seconds{1000}); // 15 km at 15 m/s, rounded up
    CHECK(wards[0].drive <= geo::Seconds{1001});
    CHECK(wards[1].drive == geo::Seconds{334}); // 5 km
    for (const NearestWard& ward : nearest_wards(plan, shoot, region()))
        CHECK_FALSE(ward.known);
    shoot.closures = {{routing::roads::Ways{{6}}, "ways 6"}};
    for (const NearestWard& ward : nearest_wards(plan, shoot, map))
        CHECK_FALSE(ward.known);
}
