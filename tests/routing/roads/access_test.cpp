#include "tests/routing/roads/map_text.hpp"

#include "routing/roads/access.hpp"
#include "routing/roads/barrier.hpp"
#include "routing/roads/conditional.hpp"

#include <doctest/doctest.h>

using namespace roads_test;
using routing::roads::Access;
using routing::roads::Direction;
using routing::roads::Remarks;
using routing::roads::Truth;
using routing::roads::Vehicle;

namespace {

struct Answer {
    std::optional<Access> access;
    bool doubtful = false;
    std::size_t remarks = 0;
};

Answer ask(const roads::Tags& tags, const Vehicle& vehicle = {}, Direction direction = Direction::forward) {
    Remarks remarks;
    const auto ruling = routing::roads::read_access(tags, direction, vehicle, remarks);
    return {ruling.access, ruling.doubtful, remarks.size()};
}

Vehicle van() {
    Vehicle vehicle;
    vehicle.weight = geo::Tonnes{3.4};
    return vehicle;
}

Vehicle truck() {
    Vehicle vehicle;
    vehicle.weight = geo::Tonnes{7.5};
    return vehicle;
}

Access barrier(const roads::Tags& tags) {
    Remarks remarks;
    return routing::roads::read_barrier(tags, {}, remarks).access;
}

Truth holds(const std::string& condition, const Vehicle& vehicle = {}) {
    const auto clauses = routing::roads::read_conditional("no @ " + condition, vehicle);
    REQUIRE(clauses.size() == 1);
    return clauses[0].holds;
}

} // namespace

TEST_CASE("without access keys nothing is ruled") {
    CHECK_FALSE(ask(tags({{"highway", "track"}})).access);
}

TEST_CASE("the narrowest access key decides") {
    CHECK(ask(tags({{"access", "no"}, {"motor_vehicle", "yes"}})).access == Access::open);
    CHECK(ask(tags({{"vehicle", "no"}, {"motor_vehicle", "yes"}})).access == Access::open);
    CHECK(ask(tags({{"motor_vehicle", "yes"}, {"motorcar", "no"}})).access == Access::forbidden);
    CHECK(ask(tags({{"access", "yes"}, {"vehicle", "private"}})).access == Access::forbidden);
    CHECK(ask(tags({{"bicycle", "yes"}, {"access", "no"}})).access == Access::forbidden);
}

TEST_CASE("a van above 3.5 t follows hgv, a lighter one motorcar") {
    const auto sign = tags({{"hgv", "no"}, {"motorcar", "yes"}, {"access", "yes"}});
    CHECK(ask(sign, van()).access == Access::open);
    CHECK(ask(sign, truck()).access == Access::forbidden);
}

TEST_CASE("goods=no makes a light van doubtful, not closed") {
    const auto answer = ask(tags({{"goods", "no"}}), van());
    CHECK(answer.access != Access::forbidden);
    CHECK(answer.doubtful);
}

TEST_CASE("each access value has its meaning and unknown ones close") {
    // OSM wiki, Key:access, list of values.
    for (const char* open : {"yes", "designated", "official", "permissive", " Yes "})
        CHECK(ask(tags({{"access", open}})).access == Access::open);
    for (const char* zone : {"destination", "customers"})
        CHECK(ask(tags({{"access", zone}})).access == Access::destination_only);
    for (const char* shut : {"no", "private", "permit", "agricultural", "forestry", "military", "delivery", "psv"}) {
        CHECK(ask(tags({{"access", shut}})).access == Access::forbidden);
        CHECK(ask(tags({{"access", shut}})).remarks == 0);
    }
    CHECK(ask(tags({{"access", "sesame"}})).access == Access::forbidden);
    CHECK(ask(tags({{"access", "sesame"}})).remarks == 1);
}

TEST_CASE("a list is as open as its most open item") {
    CHECK(ask(tags({{"access", "agricultural;forestry"}})).access == Access::forbidden);
    CHECK(ask(tags({{"access", "agricultural; destination"}})).access == Access::destination_only);
    CHECK(ask(tags({{"access", "forestry;permissive"}})).access == Access::open);
}

TEST_CASE("access can differ by direction") {
    const auto sign = tags({{"motor_vehicle:backward", "no"}, {"motor_vehicle", "yes"}});
    CHECK(ask(sign, {}, Direction::forward).access == Access::open);
    CHECK(ask(sign, {}, Direction::backward).access == Access::forbidden);
}

TEST_CASE("a condition counts only when it surely holds") {
    const auto by_weight = tags({{"access", "yes"}, {"motor_vehicle:conditional", "no @ (weight>3.5)"}});
    CHECK(ask(by_weight, truck()).access == Access::forbidden);
    CHECK(ask(by_weight, van()).access == Access::open);
    CHECK_FALSE(ask(by_weight, van()).doubtful);
    const auto in_the_wet = tags({{"motor_vehicle", "yes"}, {"motor_vehicle:conditional", "no @ wet"}});
    CHECK(ask(in_the_wet).access == Access::open);
    CHECK(ask(in_the_wet).doubtful);
}

TEST_CASE("conditions on the hour are handed on, in rising order of weight, under the base that holds else") {
    using Hours = std::vector<std::string>;
    Remarks remarks;
    const auto read = [&](const roads::Tags& sign) {
        return routing::roads::read_access(sign, Direction::forward, van(), remarks);
    };
    const auto at_night = read(tags({{"motor_vehicle", "yes"}, {"motor_vehicle:conditional", "no @ (22:00-06:00)"}}));
    CHECK(at_night.access == Access::open);
    REQUIRE(at_night.at_hours.size() == 1);
    CHECK(at_night.at_hours[0].access == Access::forbidden);
    CHECK(at_night.at_hours[0].by_mode_key);
    CHECK(at_night.at_hours[0].when == Hours{"22:00-06:00"});
    // A narrower key without a base leaves the other hours to the wider one, and goes over what that says.
    const auto both = read(tags({{"access", "private"},
                                 {"access:conditional", "yes @ (Jul-Aug)"},
                                 {"motor_vehicle:conditional", "no @ (Mo-Fr 07:00-09:00; Sa 08:00-12:00)"}}));
    CHECK(both.access == Access::forbidden);
    CHECK_FALSE(both.by_mode_key);
    REQUIRE(both.at_hours.size() == 2);
    CHECK(both.at_hours[0].when == Hours{"Jul-Aug"});
    CHECK_FALSE(both.at_hours[0].by_mode_key);
    CHECK(both.at_hours[1].when == Hours{"Mo-Fr 07:00-09:00; Sa 08:00-12:00"});
    CHECK(both.at_hours[1].by_mode_key);
    // What surely holds goes over all before it.
    const auto sure = read(tags({{"motor_vehicle:conditional", "no @ (Nov-May); yes @ (weight<=3.5); no @ (Su)"}}));
    CHECK(sure.access == Access::open);
    REQUIRE(sure.at_hours.size() == 1);
    CHECK(sure.at_hours[0].when == Hours{"Su"});
    CHECK(remarks.empty());
}

TEST_CASE("all parts of a condition must hold: hours are left when the vehicle proves the rest") {
    using Hours = std::vector<std::string>;
    const auto read = [](const char* text, const Vehicle& vehicle) {
        return routing::roads::read_conditional(text, vehicle).at(0);
    };
    const char* text = "no @ (Mo-Fr 07:00-09:00 AND weight>3.5)";
    CHECK(read(text, van()).holds == Truth::no);
    CHECK(read(text, truck()).holds == Truth::at_times);
    CHECK(read(text, truck()).times == Hours{"Mo-Fr 07:00-09:00"});
    CHECK(read(text, {}).holds == Truth::unknown); // the weight was not given
    CHECK(read("no @ ((Nov-Apr) AND (20:00-06:00))", van()).times == Hours{"Nov-Apr", "20:00-06:00"});
    CHECK(read("no @ (Nov-Apr) AND (20:00-06:00)", van()).times == Hours{"Nov-Apr", "20:00-06:00"});
    CHECK(read("no @ (winter AND snow)", van()).holds == Truth::unknown);
    CHECK(read("no @ (winter AND snow)", van()).times.empty());
    CHECK(read("no @ winter", van()).times == Hours{"winter"});
}

TEST_CASE("hours of goods vehicles are a doubt, since some vans are registered so") {
    CHECK(ask(tags({{"goods:conditional", "no @ (Mo-Fr 07:00-09:00)"}}), van()).doubtful);
    CHECK_FALSE(ask(tags({{"goods:conditional", "no @ (weight>5)"}}), van()).doubtful);
    CHECK_FALSE(ask(tags({{"goods:conditional", "yes @ (Mo-Fr 07:00-09:00)"}}), van()).doubtful);
}

TEST_CASE("a condition that surely holds rules without a base value too") {
    const auto light_only = tags({{"access", "no"}, {"motor_vehicle:conditional", "yes @ (weight<=3.5)"}});
    CHECK(ask(light_only, van()).access == Access::open);
    CHECK(ask(light_only, truck()).access == Access::forbidden);
    CHECK(ask(light_only).access == Access::forbidden); // weight not given: the wider key rules
}

TEST_CASE("an access condition that can't be read closes the road") {
    for (const char* text : {"no @ (when cows pass)", "no", "no @ (Mo-Fr 07:00-09:00", "closed @ (22:00-06:00)", "@"}) {
        CAPTURE(text);
        const auto answer = ask(tags({{"access", "yes"}, {"motor_vehicle:conditional", text}}));
        CHECK(answer.access == Access::forbidden);
        CHECK(answer.remarks >= 1);
    }
}

TEST_CASE("of conditional clauses the last one that holds wins") {
    const auto sign = tags({{"access:conditional", "no @ (weight>2); yes @ (weight>3)"}});
    CHECK(ask(sign, van()).access != Access::forbidden);
}

TEST_CASE("conditions on size are proved, on time left to the hour, on weather to nobody, nonsense is unreadable") {
    CHECK(holds("(weight>3.5)", truck()) == Truth::yes);
    CHECK(holds("weight>3.5", van()) == Truth::no);
    CHECK(holds("(weight>3.5)") == Truth::unknown); // the crew did not say
    CHECK(holds("(weight>=7.5)", truck()) == Truth::yes);
    CHECK(holds("(weight<7.5)", truck()) == Truth::no);
    CHECK(holds("24/7") == Truth::yes);
    for (const char* text : {"wet", "snow", "destination", "(ice AND 22:00-06:00)"})
        CHECK(holds(text) == Truth::unknown);
    for (const char* text : {"(Mo-Fr 07:00-09:00)", "(22:00-06:00)", "sunset-sunrise", "(Nov-May)", "PH",
                             "(2027 Mar 01-2027 Apr 30)", "(Mo-Fr 07:00-09:00; Sa 08:00-12:00)", "winter"})
        CHECK(holds(text) == Truth::at_times);
    for (const char* text : {"(colour>red)", "(weight>)", "when wanted", "()", "(Mo-Fr 07:00-25:99)"})
        CHECK(holds(text) == Truth::unreadable);
}

TEST_CASE("each barrier kind lets the van through or not") {
    // OSM wiki, Key:barrier and the values' pages; allow-list, so that unknown kinds close (D15).
    for (const char* open : {"cattle_grid", "entrance", "toll_booth", "border_control", "bump_gate", "gate",
                             "swing_gate", "hampshire_gate", "height_restrictor", "wall", "fence", "kerb"})
        CHECK(barrier(tags({{"barrier", open}})) == Access::open);
    for (const char* shut : {"lift_gate", "bollard", "block", "chain", "cycle_barrier", "jersey_barrier", "log",
                             "debris", "stile", "kissing_gate", "turnstile", "horse_stile", "dragon"})
        CHECK(barrier(tags({{"barrier", shut}})) == Access::forbidden);
    CHECK(barrier(tags({{"highway", "crossing"}})) == Access::open);
}

TEST_CASE("a barrier's own access keys win, its lock wins over those") {
    CHECK(barrier(tags({{"barrier", "bollard"}, {"motor_vehicle", "yes"}})) == Access::open);
    CHECK(barrier(tags({{"barrier", "lift_gate"}, {"access", "permissive"}})) == Access::open);
    CHECK(barrier(tags({{"barrier", "gate"}, {"access", "private"}})) == Access::forbidden);
    CHECK(barrier(tags({{"barrier", "gate"}, {"access", "destination"}})) == Access::destination_only);
    CHECK(barrier(tags({{"barrier", "gate"}, {"locked", "yes"}})) == Access::forbidden);
    CHECK(barrier(tags({{"barrier", "bollard"}, {"bollard", "rising"}})) == Access::forbidden);
}

TEST_CASE("gates take 45 seconds and toll booths 30") {
    Remarks remarks;
    const auto gate = routing::roads::read_barrier(tags({{"barrier", "gate"}}), {}, remarks);
    CHECK(gate.delay == geo::Seconds{45});
    CHECK((gate.notes & routing::roads::note_gate) != 0);
    CHECK(remarks.size() == 1);
    const auto toll = routing::roads::read_barrier(tags({{"barrier", "toll_booth"}}), {}, remarks);
    CHECK(toll.delay == geo::Seconds{30});
    CHECK((toll.notes & routing::roads::note_toll) != 0);
}
