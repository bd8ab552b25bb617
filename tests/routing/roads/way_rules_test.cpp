#include "tests/routing/roads/map_text.hpp"

#include "routing/roads/ferry.hpp"
#include "routing/roads/node_rules.hpp"
#include "routing/roads/oneway.hpp"
#include "routing/roads/size_limit.hpp"
#include "routing/roads/tag_text.hpp"
#include "routing/roads/way_rules.hpp"
#include "tests/support/near.hpp"

#include <doctest/doctest.h>

using namespace roads_test;
using routing::roads::Remarks;
using routing::roads::Vehicle;
using routing::roads::WayRuling;
using support::near;

namespace {

WayRuling rule(const Pairs& pairs, const Vehicle& vehicle = {}) {
    Remarks remarks;
    return routing::roads::rule_way(roads::Tags{pairs}, vehicle, remarks);
}

/// "both", "forward", "backward" or "closed".
std::string open_ways(const Pairs& pairs, const Vehicle& vehicle = {}) {
    const WayRuling ruling = rule(pairs, vehicle);
    return ruling.forward ? (ruling.backward ? "both" : "forward") : (ruling.backward ? "backward" : "closed");
}

std::size_t remarks_on(const Pairs& pairs) {
    Remarks remarks;
    routing::roads::rule_way(roads::Tags{pairs}, {}, remarks);
    return remarks.size();
}

bool is_length(const char* text, double metres) {
    const auto length = routing::roads::read_length(text);
    return length && near(*length, geo::Metres{metres}, geo::Metres{1e-9});
}

bool is_weight(const char* text, double tonnes) {
    const auto weight = routing::roads::read_weight(text);
    return weight && near(*weight, geo::Tonnes{tonnes}, geo::Tonnes{1e-9});
}

Vehicle tall(double metres) {
    Vehicle vehicle;
    vehicle.height = geo::Metres{metres};
    return vehicle;
}

} // namespace

TEST_CASE("only listed highway classes are driven") {
    // osmnx issue 659 (D15): allow-list, not block-list.
    for (const char* open : {"motorway", "trunk_link", "primary", "unclassified", "road", "residential",
                             "living_street", "service", "tertiary_link"})
        CHECK(open_ways({{"highway", open}, {"oneway", "no"}}) == "both");
    for (const char* shut : {"footway", "path", "cycleway", "bridleway", "pedestrian", "steps", "busway",
                             "bus_guideway", "raceway", "escape", "platform", "via_ferrata", "elevator", "construction",
                             "proposed", "abandoned", "no", "spaceway", "track"})
        CHECK(open_ways({{"highway", shut}}) == "closed");
}

TEST_CASE("a motor vehicle tag opens paths and tracks, but never what no van can use") {
    CHECK(open_ways({{"highway", "pedestrian"}, {"motor_vehicle", "yes"}}) == "both");
    CHECK(open_ways({{"highway", "footway"}, {"motorcar", "permissive"}}) == "both");
    CHECK(open_ways({{"highway", "footway"}, {"access", "yes"}}) == "closed");
    CHECK(open_ways({{"highway", "steps"}, {"motor_vehicle", "yes"}}) == "closed");
    CHECK(open_ways({{"highway", "construction"}, {"motor_vehicle", "yes"}}) == "closed");
    CHECK(open_ways({{"highway", "track"}, {"motor_vehicle", "yes"}}) == "both");
}

TEST_CASE("firm tracks are open with a note, soft and closed ones not") {
    CHECK(open_ways({{"highway", "track"}, {"tracktype", "grade1"}}) == "both");
    CHECK(open_ways({{"highway", "track"}, {"tracktype", "grade2"}}) == "both");
    CHECK(open_ways({{"highway", "track"}, {"tracktype", "grade3"}}) == "closed");
    CHECK(open_ways({{"highway", "track"}, {"tracktype", "grade1"}, {"access", "forestry"}}) == "closed");
    const auto notes = rule({{"highway", "track"}, {"tracktype", "grade2"}}).notes;
    CHECK((notes & routing::roads::note_track) != 0);
    CHECK((notes & routing::roads::note_doubtful_access) != 0);
}

TEST_CASE("every key counts, not the first that matches") {
    // pyrosm issue 108 (D14): service=* under highway=service.
    CHECK(open_ways({{"highway", "service"}, {"service", "emergency_access"}}) == "closed");
    CHECK(rule({{"highway", "service"}, {"service", "driveway"}}).destination_only);
    CHECK_FALSE(rule({{"highway", "service"}, {"service", "driveway"}, {"access", "yes"}}).destination_only);
    CHECK_FALSE(rule({{"highway", "service"}}).destination_only);
    CHECK(open_ways({{"highway", "service"}, {"area", "yes"}}) == "closed");
    CHECK(rule({{"highway", "residential"}, {"motor_vehicle", "destination"}}).destination_only);
}

TEST_CASE("seasonal roads, fords for feet and rough roads are closed") {
    CHECK(open_ways({{"highway", "unclassified"}, {"winter_road", "yes"}}) == "closed");
    CHECK(open_ways({{"highway", "unclassified"}, {"ice_road", "yes"}}) == "closed");
    CHECK(open_ways({{"highway", "unclassified"}, {"ford", "stepping_stones"}}) == "closed");
    CHECK(open_ways({{"highway", "unclassified"}, {"ford", "yes"}}) == "both");
    CHECK(rule({{"highway", "unclassified"}, {"ford", "yes"}}).extra == geo::Seconds{30});
    CHECK(open_ways({{"highway", "unclassified"}, {"4wd_only", "yes"}}) == "closed");
}

TEST_CASE("one-way values are read as the wiki page gives them") {
    const auto with = [](const char* value) { return open_ways({{"highway", "primary"}, {"oneway", value}}); };
    for (const char* yes : {"yes", "true", "1", "Yes"})
        CHECK(with(yes) == "forward");
    CHECK(with("-1") == "backward");
    CHECK(with("reverse") == "backward");
    CHECK(with("no") == "both");
    CHECK(with("reversible") == "closed");
    CHECK(with("alternating") == "both");
    CHECK(rule({{"highway", "primary"}, {"oneway", "alternating"}}).extra == geo::Seconds{60});
    CHECK(with("perhaps") == "forward");
}

TEST_CASE("motorways and roundabouts are one-way unless they say no") {
    // osmnx PR 124 (D03).
    CHECK(open_ways({{"highway", "motorway"}}) == "forward");
    CHECK(open_ways({{"highway", "primary"}, {"junction", "roundabout"}}) == "forward");
    CHECK(open_ways({{"highway", "primary"}, {"junction", "circular"}}) == "forward");
    CHECK(open_ways({{"highway", "primary"}, {"junction", "circular"}, {"oneway", "no"}}) == "both");
    CHECK(open_ways({{"highway", "primary"}, {"junction", "roundabout"}, {"oneway", "no"}}) == "both");
    CHECK(open_ways({{"highway", "primary"}, {"junction", "roundabout"}, {"oneway", "-1"}}) == "backward");
    CHECK(open_ways({{"highway", "motorway_link"}}) == "forward");
    CHECK(open_ways({{"highway", "trunk"}}) == "both");
    CHECK(remarks_on({{"highway", "motorway_link"}}) == 1);
}

TEST_CASE("one-way for motor vehicles only, and conditions on it") {
    CHECK(open_ways({{"highway", "primary"}, {"oneway", "yes"}, {"oneway:motor_vehicle", "no"}}) == "both");
    CHECK(
        open_ways({{"highway", "primary"}, {"oneway", "reversible"}, {"oneway:conditional", "yes @ (06:00-12:00)"}}) ==
        "closed");
    Vehicle truck;
    truck.weight = geo::Tonnes{7.5};
    CHECK(open_ways({{"highway", "primary"}, {"oneway:conditional", "yes @ (weight>3.5)"}}, truck) == "forward");
}

TEST_CASE("forward and backward refer to the drawing order, also on reversed one-ways") {
    // osmnx PR 814 (D04).
    const auto ruling =
        rule({{"highway", "primary"}, {"oneway", "-1"}, {"maxspeed:backward", "50"}, {"maxspeed:forward", "80"}});
    CHECK(ruling.backward);
    CHECK_FALSE(ruling.forward);
    CHECK(near(ruling.backward_speed, geo::KilometresPerHour{45}, geo::KilometresPerHour{1e-9}));
}

TEST_CASE("lengths are read in each unit of the wiki page") {
    // Map features/Units; inch 25.4 mm.
    CHECK(is_length("3.8", 3.8));
    CHECK(is_length("3,8", 3.8));
    CHECK(is_length("3.8 m", 3.8));
    CHECK(is_length("3.8m", 3.8));
    CHECK(is_length("380 cm", 3.8));
    CHECK(is_length("12'6\"", 3.81));
    CHECK(is_length("12' 6\"", 3.81));
    CHECK(is_length("12 ft 6 in", 3.81));
    CHECK(is_length("12'", 3.6576));
    CHECK(is_length("12 ft", 3.6576));
    for (const char* text : {"", "tall", "3.8 yards", "-3", "12'6\" or so"})
        CHECK_FALSE(routing::roads::read_length(text));
}

TEST_CASE("weights are read in each unit of the wiki page") {
    CHECK(is_weight("3.5", 3.5));
    CHECK(is_weight("3.5 t", 3.5));
    CHECK(is_weight("3500 kg", 3.5));
    CHECK(is_weight("7.5 st", 6.80388555)); // short ton: 2000 lb of 0.45359237 kg
    CHECK(is_weight("7700 lbs", 3.492661249));
    CHECK_FALSE(routing::roads::read_weight("heavy"));
}

TEST_CASE("a van that exceeds a sign is kept out, an equal one passes") {
    const Pairs low{{"highway", "residential"}, {"maxheight", "2.6"}};
    CHECK(open_ways(low, tall(2.6)) == "both");
    CHECK(open_ways(low, tall(2.61)) == "closed");
    CHECK(open_ways(low) == "both");
    CHECK((rule(low).notes & routing::roads::note_low_clearance) != 0);
    CHECK(open_ways({{"highway", "residential"}, {"maxheight:physical", "2.5"}}, tall(2.6)) == "closed");
    CHECK(open_ways({{"highway", "residential"}, {"maxheight:forward", "2.5"}}, tall(2.6)) == "backward");
    CHECK(open_ways({{"highway", "residential"}, {"maxheight", "12'6\""}}, tall(3.81)) == "both");
    for (const char* unlimited : {"default", "none", "no_sign", "unsigned"})
        CHECK(open_ways({{"highway", "residential"}, {"maxheight", unlimited}}, tall(4.0)) == "both");
    Vehicle van;
    van.weight = geo::Tonnes{3.4};
    van.width = geo::Metres{2.1};
    van.length = geo::Metres{6.0};
    for (const Pairs& sign : {Pairs{{"maxweight", "3.4"}}, Pairs{{"maxwidth", "2.1"}}, Pairs{{"maxlength", "6"}}}) {
        Pairs with{{"highway", "residential"}};
        with.push_back(sign[0]);
        CHECK(open_ways(with, van) == "both");
    }
    CHECK(open_ways({{"highway", "residential"}, {"maxweight", "2.8"}}, van) == "closed");
    CHECK(open_ways({{"highway", "residential"}, {"maxweightrating", "2.8"}}, van) == "closed");
    CHECK(open_ways({{"highway", "residential"}, {"maxwidth", "2"}}, van) == "closed");
    CHECK(open_ways({{"highway", "residential"}, {"maxlength", "5.5"}}, van) == "closed");
    CHECK(open_ways({{"highway", "residential"}, {"maxweight", "quite"}}, van) == "both");
}

TEST_CASE("nodes delay, warn and stop by their tags") {
    Remarks remarks;
    const auto node = [&](const Pairs& pairs, const Vehicle& vehicle = {}) {
        return routing::roads::rule_node(roads::Tags{pairs}, vehicle, remarks);
    };
    CHECK(node({{"highway", "traffic_signals"}}).signals.forward == geo::Seconds{15});
    CHECK(node({{"highway", "traffic_signals"}}).signals.backward == geo::Seconds{15});
    const auto one_sided = node({{"highway", "traffic_signals"}, {"traffic_signals:direction", "backward"}});
    CHECK(one_sided.signals.forward == geo::Seconds{0});
    CHECK(one_sided.signals.backward == geo::Seconds{15});
    CHECK(node({{"railway", "level_crossing"}}).other.forward == geo::Seconds{20});
    CHECK(node({{"highway", "stop"}, {"direction", "forward"}}).other.forward == geo::Seconds{5});
    CHECK(node({{"highway", "stop"}, {"direction", "forward"}}).other.backward == geo::Seconds{0});
    CHECK(node({{"highway", "give_way"}}).other.forward == geo::Seconds{3});
    CHECK(node({{"barrier", "height_restrictor"}, {"maxheight", "2"}}, tall(2.6)).access ==
          routing::roads::Access::forbidden);
    CHECK(node({{"maxheight", "2"}}, tall(2.6)).is_barrier);
}

TEST_CASE("ferries carry the van only when a tag says so") {
    CHECK(open_ways({{"route", "ferry"}}) == "closed");
    CHECK(open_ways({{"route", "ferry"}, {"access", "yes"}}) == "closed");
    CHECK(open_ways({{"route", "ferry"}, {"motor_vehicle", "yes"}}) == "both");
    CHECK(open_ways({{"route", "ferry"}, {"motorcar", "no"}, {"motor_vehicle", "yes"}}) == "closed");
    CHECK(open_ways({{"route", "ferry"}, {"vehicle", "yes"}, {"oneway", "yes"}}) == "forward");
}

TEST_CASE("durations are read in each form of the wiki page") {
    using routing::roads::read_duration;
    CHECK(read_duration("00:45") == geo::Seconds{45 * 60});
    CHECK(read_duration("01:30:15") == geo::Seconds{5415});
    CHECK(read_duration("45") == geo::Seconds{45 * 60});
    CHECK(read_duration("PT1H30M") == geo::Seconds{5400});
    CHECK(read_duration("PT90M") == geo::Seconds{5400});
    for (const char* text : {"", "soon", "0", "1:2:3:4", "P1Y", "PT", "999999999"})
        CHECK_FALSE(read_duration(text));
}

TEST_CASE("a ferry takes its duration, boarding and half the interval; unlikely durations count as 20 km/h") {
    Remarks remarks;
    const auto good =
        routing::roads::read_ferry(tags({{"duration", "00:30"}, {"interval", "01:00"}}), geo::Metres{10'000}, remarks);
    CHECK(good.under_way == geo::Seconds{1800});
    CHECK(good.boarding == geo::Seconds{900 + 1800});
    CHECK(remarks.empty());
    const auto too_fast = routing::roads::read_ferry(tags({{"duration", "00:05"}}), geo::Metres{10'000}, remarks);
    CHECK(too_fast.under_way == geo::Seconds{1800});
    CHECK(remarks.size() == 1);
    CHECK(routing::roads::read_ferry({}, geo::Metres{10'000}, remarks).under_way == geo::Seconds{1800});
}

TEST_CASE("lists split outside brackets and numbers stop where text begins") {
    using routing::roads::leading_number;
    using routing::roads::split_list;
    CHECK(split_list("a; b;;c ", ";") == std::vector<std::string_view>{"a", "b", "c"});
    CHECK(split_list("no @ (Mo; Tu); yes @ x", ";").size() == 2);
    CHECK(leading_number("3,8 m")->value == doctest::Approx(3.8));
    CHECK(leading_number("3,8 m")->rest == "m");
    CHECK_FALSE(leading_number("m"));
}
