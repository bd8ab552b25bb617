#include "tests/routing/roads/map_text.hpp"

#include "routing/roads/country_speed.hpp"
#include "routing/roads/speed.hpp"
#include "routing/roads/surface.hpp"
#include "routing/roads/way_rules.hpp"
#include "tests/support/near.hpp"

#include <doctest/doctest.h>

using namespace roads_test;
using geo::KilometresPerHour;
using routing::roads::Direction;
using routing::roads::Remarks;
using routing::roads::Vehicle;
using support::near;

namespace {

std::optional<KilometresPerHour> value(const char* text, bool fast_road = false) {
    Remarks remarks;
    return routing::roads::read_speed_value(text, fast_road, false, remarks);
}

std::optional<KilometresPerHour> legal(const roads::Tags& tags, const Vehicle& vehicle = {},
                                       Direction direction = Direction::forward) {
    Remarks remarks;
    return routing::roads::read_legal_speed(tags, direction, vehicle, remarks).limit;
}

KilometresPerHour travel(const Pairs& pairs, const Vehicle& vehicle = {}) {
    Remarks remarks;
    return routing::roads::rule_way(roads::Tags{pairs}, vehicle, remarks).forward_speed;
}

bool is(std::optional<KilometresPerHour> speed, double km_h) {
    return speed && near(*speed, KilometresPerHour{km_h}, KilometresPerHour{1e-9});
}

Vehicle truck() {
    Vehicle vehicle;
    vehicle.weight = geo::Tonnes{7.5};
    return vehicle;
}

} // namespace

TEST_CASE("speed values are read in each unit of the wiki page") {
    CHECK(is(value("50"), 50));
    CHECK(is(value("50 km/h"), 50));
    CHECK(is(value("30 mph"), 48.28032));
    CHECK(is(value("30mph"), 48.28032));
    CHECK(is(value("10 knots"), 18.52));
    CHECK(is(value("walk"), 6));
    CHECK(is(value("none", true), 120));
    CHECK_FALSE(value("none", false));
}

TEST_CASE("of several speeds the least counts, never their digits joined") {
    // osmnx issue 934 (D01): "70|100" became more than 10 000 km/h.
    CHECK(is(value("70|100"), 70));
    CHECK(is(value("60;50"), 50));
    CHECK(is(value("signals;50"), 50));
}

TEST_CASE("what is no speed, or none below 3 or above 150, is absent and said") {
    for (const char* text : {"signals", "variable", "fixme", "0", "-1", "151", "70100", "fast", "50 furlongs", "2",
                             "https://example.org/sign"}) {
        CAPTURE(text);
        Remarks remarks;
        CHECK_FALSE(routing::roads::read_speed_value(text, false, false, remarks));
        CHECK(remarks.size() == 1);
    }
}

TEST_CASE("country codes are converted, unknown ones leave the class figure") {
    // osmnx issue 1152 (D02); figures: OSM wiki, Default speed limits, revision 2607051.
    CHECK(is(value("RO:urban"), 50));
    CHECK(is(value("CH:rural"), 80));
    CHECK(is(value("AT:motorway"), 130));
    CHECK(is(value("DE:motorway"), 120));
    CHECK(is(value("ES:urban"), 30));
    CHECK(is(value("GB:nsl_single"), 96.56064));
    CHECK(is(value("UK:motorway"), 112.65408));
    CHECK(is(value("DE:zone:30"), 30));
    CHECK(is(value("DE:zone30"), 30));
    CHECK(is(value("DE:30"), 30));
    CHECK(is(value("GB:zone20"), 32.18688));
    Remarks remarks;
    CHECK_FALSE(routing::roads::read_speed_value("XX:urban", false, false, remarks));
    CHECK(remarks.size() == 1);
    CHECK(routing::roads::names_urban_zone("XX:urban"));
    CHECK_FALSE(routing::roads::names_urban_zone("XX:rural"));
    CHECK_FALSE(routing::roads::names_urban_zone("https://example.org/30"));
}

TEST_CASE("a heavy vehicle's rural limit is the lower one") {
    // DE 80, AT 70 above 3.5 t.
    CHECK(is(legal(tags({{"highway", "primary"}, {"maxspeed", "DE:rural"}}), truck()), 80));
    CHECK(is(legal(tags({{"highway", "primary"}, {"maxspeed", "AT:rural"}}), truck()), 70));
    CHECK(is(legal(tags({{"highway", "primary"}, {"maxspeed", "DE:rural"}})), 100));
}

TEST_CASE("the narrowest readable speed key counts, by direction and vehicle") {
    const auto both = tags({{"maxspeed", "70"}, {"maxspeed:forward", "50"}, {"maxspeed:hgv", "40"}});
    CHECK(is(legal(both), 50));
    CHECK(is(legal(both, {}, Direction::backward), 70));
    CHECK(is(legal(both, truck()), 40));
    CHECK(is(legal(tags({{"maxspeed", "70"}, {"maxspeed:forward", "signals"}})), 70));
    CHECK(is(legal(tags({{"maxspeed:motorcar", "60"}, {"maxspeed", "80"}})), 60));
}

TEST_CASE("zone keys fill in where maxspeed is missing") {
    CHECK(is(legal(tags({{"source:maxspeed", "FR:urban"}})), 50));
    CHECK(is(legal(tags({{"maxspeed:type", "IT:rural"}})), 90));
    CHECK(is(legal(tags({{"zone:maxspeed", "AT:30"}})), 30));
    CHECK(is(legal(tags({{"zone:traffic", "NO:rural"}})), 80));
    CHECK(is(legal(tags({{"maxspeed", "60"}, {"source:maxspeed", "FR:rural"}})), 60));
    CHECK_FALSE(legal(tags({{"source:maxspeed", "sign"}})));
}

TEST_CASE("a speed condition that can't be proved leaves the base value") {
    // osmose-backend PRs 1376, 1382 (D20).
    CHECK(is(legal(tags({{"maxspeed", "130"}, {"maxspeed:conditional", "80 @ wet"}})), 130));
    CHECK(is(legal(tags({{"maxspeed", "100"}, {"maxspeed:conditional", "60 @ (weight>7)"}}), truck()), 60));
    Vehicle van;
    van.weight = geo::Tonnes{3.4};
    CHECK(is(legal(tags({{"maxspeed", "100"}, {"maxspeed:conditional", "60 @ (weight>7)"}}), van), 100));
}

TEST_CASE("travel speed is the least of 0.9 legal, 1.25 class figure and the caps") {
    CHECK(is(travel({{"highway", "primary"}}), 70));
    CHECK(is(travel({{"highway", "primary"}, {"maxspeed", "50"}}), 45));
    CHECK(is(travel({{"highway", "primary"}, {"maxspeed", "100"}}), 87.5));
    CHECK(is(travel({{"highway", "unclassified"}, {"maxspeed", "100"}}), 50));
    CHECK(is(travel({{"highway", "unclassified"}, {"surface", "gravel"}}), 35));
    CHECK(is(travel({{"highway", "motorway"}, {"maxspeed", "none"}}), 108));
    CHECK(is(travel({{"highway", "motorway_link"}}), 60));
    CHECK(is(travel({{"highway", "track"}, {"motor_vehicle", "yes"}, {"tracktype", "grade1"}}), 40));
    CHECK(is(travel({{"highway", "track"}, {"motor_vehicle", "yes"}, {"tracktype", "grade2"}}), 25));
    CHECK(is(travel({{"highway", "track"}, {"motor_vehicle", "yes"}}), 20));
    CHECK(is(travel({{"highway", "service"}, {"service", "parking_aisle"}, {"access", "yes"}}), 10));
}

TEST_CASE("the town figure holds where a limit, a zone, lamps or a sidewalk say so") {
    CHECK(is(travel({{"highway", "secondary"}}), 60));
    CHECK(is(travel({{"highway", "secondary"}, {"lit", "yes"}}), 42));
    CHECK(is(travel({{"highway", "secondary"}, {"sidewalk", "both"}}), 42));
    CHECK(is(travel({{"highway", "secondary"}, {"maxspeed:type", "XX:urban"}}), 42));
    CHECK(is(travel({{"highway", "secondary"}, {"lit", "no"}, {"sidewalk", "none"}}), 60));
}

TEST_CASE("surface, tracktype and smoothness cap the speed or close the road") {
    const auto cap = [](const roads::Tags& t, bool high = false) {
        Vehicle vehicle;
        vehicle.high_clearance = high;
        Remarks remarks;
        return routing::roads::read_surface(t, vehicle, remarks);
    };
    CHECK_FALSE(cap(tags({{"surface", "asphalt"}})).cap);
    CHECK(is(cap(tags({{"surface", "sett"}})).cap, 40));
    CHECK(is(cap(tags({{"surface", "compacted"}})).cap, 50));
    CHECK(is(cap(tags({{"surface", "ground"}})).cap, 20));
    CHECK(is(cap(tags({{"surface", "mud"}})).cap, 8));
    CHECK(is(cap(tags({{"surface", "asphalt;gravel"}})).cap, 35));
    CHECK(is(cap(tags({{"tracktype", "grade3"}, {"surface", "gravel"}})).cap, 15));
    CHECK(is(cap(tags({{"smoothness", "bad"}})).cap, 30));
    CHECK_FALSE(cap(tags({{"surface", "moonstone"}})).cap);
    CHECK_FALSE(cap(tags({{"tracktype", "grade4"}})).passable);
    CHECK(cap(tags({{"tracktype", "grade4"}}), true).passable);
    CHECK_FALSE(cap(tags({{"tracktype", "grade5"}}), true).passable);
    CHECK_FALSE(cap(tags({{"smoothness", "very_bad"}})).passable);
    CHECK(cap(tags({{"smoothness", "very_bad"}}), true).passable);
    CHECK_FALSE(cap(tags({{"smoothness", "horrible"}}), true).passable);
    CHECK_FALSE(cap(tags({{"4wd_only", "yes"}})).passable);
    CHECK((cap(tags({{"surface", "dirt"}})).notes & routing::roads::note_unpaved) != 0);
    CHECK((cap(tags({{"surface", "asphalt"}})).notes & routing::roads::note_unpaved) == 0);
}
