#include "shoot_fixture.hpp"

#include "cli/close_option.hpp"
#include "cli/closure_words.hpp"
#include "cli/json_fields.hpp"
#include "cli/read_closure.hpp"

#include <doctest/doctest.h>

using cli::closure_text;
using namespace geo::literals;

namespace {

geo::Instant instant(const char* text) {
    return *geo::parse_instant(text, *geo::find_time_zone("UTC"));
}

/// Told on the 14th of May at 14:05.
routing::roads::Closure parse_closure(const std::string& text) {
    static const geo::TimeZone zone = *geo::find_time_zone("UTC");
    return cli::parse_closure(text, {instant("2027-05-14T14:05"), zone});
}

geo::InputFault fault_of(const std::string& text) {
    try {
        parse_closure(text);
    } catch (const geo::InputError& error) {
        REQUIRE(error.faults().size() == 1);
        return error.faults().front();
    }
    FAIL("not refused: ", text);
    return {};
}

} // namespace

TEST_CASE("closures are read from the command line") {
    const auto road = parse_closure("road:Pass Road");
    CHECK(std::get<routing::roads::RoadNamed>(road.where).name == "Pass Road");
    CHECK_FALSE(std::get<routing::roads::RoadNamed>(road.where).near);
    CHECK(road.label == "road \"Pass Road\"");

    const auto near = parse_closure("road:C@fé Lane@-35.2,-8.4");
    CHECK(std::get<routing::roads::RoadNamed>(near.where).name == "C@fé Lane");
    CHECK(std::get<routing::roads::RoadNamed>(near.where).near == geo::Coordinate{-35.2_deg, -8.4_deg});

    CHECK(std::get<routing::roads::Ways>(parse_closure("ways:12,-34").where).ids ==
          std::vector<routing::roads::OsmId>{12, -34});
    CHECK(std::get<routing::roads::Area>(parse_closure("area:1,2;3,4; 5, 6").where).ring.at(2) ==
          geo::Coordinate{5_deg, 6_deg});
    const auto line = parse_closure("line:1,2; 3,-4");
    CHECK(std::get<routing::roads::Line>(line.where).points ==
          std::vector<geo::Coordinate>{{1_deg, 2_deg}, {3_deg, -4_deg}});
    CHECK(line.label == "line of 2 points from 1,2 to 3,-4");
    const auto circle = std::get<routing::roads::Circle>(parse_closure("circle:-35.2,-8.4,150").where);
    CHECK(circle.centre == geo::Coordinate{-35.2_deg, -8.4_deg});
    CHECK(circle.radius == 150_m);
}

TEST_CASE("a closure on the command line may hold for a time") {
    const auto zone = *geo::find_time_zone("UTC");
    const auto both = parse_closure("road:From Hill@-35.2,-8.4 from 10:00 until 15:30");
    CHECK(std::get<routing::roads::RoadNamed>(both.where).name == "From Hill");
    CHECK(both.from == instant("2027-05-14T10:00"));
    CHECK(both.until == instant("2027-05-14T15:30"));
    CHECK(closure_text(both, zone) == "road \"From Hill\" near -35.2,-8.4 (2027-05-14 10:00 to 15:30)");
    const auto from = parse_closure("ways:12 from 10:00");
    CHECK(from.from == instant("2027-05-14T10:00"));
    CHECK_FALSE(from.until);
    CHECK(closure_text(from, zone) == "way 12 (from 2027-05-14 10:00)");
    const auto until = parse_closure("circle:1,2,30 until 15:30");
    CHECK_FALSE(until.from);
    CHECK(closure_text(until, zone) == "30 m around 1,2 (until 2027-05-14 15:30)");
    CHECK(std::get<routing::roads::Circle>(until.where).radius == 30_m);
    CHECK(closure_text(parse_closure("ways:12"), zone) == "way 12");
    CHECK(parse_closure("ways:12").van);
    CHECK_FALSE(parse_closure("ways:12").foot);
    CHECK(closure_text(parse_closure("ways:12 for foot"), zone) == "way 12 (on foot)");
    CHECK(closure_text(parse_closure("ways:12 for van,foot until 15:30"), zone) ==
          "way 12 (for van and foot, until 2027-05-14 15:30)");
    CHECK_FALSE(parse_closure("ways:12 for foot").van);
    // In any order.
    CHECK(closure_text(parse_closure("ways:12 until 15:30 from 10:00 for foot"), zone) ==
          closure_text(parse_closure("ways:12 for foot from 10:00 until 15:30"), zone));
}

TEST_CASE("clock times of a closure may run past midnight, and dates may stand beside them") {
    const auto night = parse_closure("ways:12 from 22:00 until 05:00");
    CHECK(night.from == instant("2027-05-14T22:00"));
    CHECK(night.until == instant("2027-05-15T05:00"));
    // From this morning, though told after it; an end without a beginning is still to come.
    CHECK(parse_closure("ways:12 from 06:00").from == instant("2027-05-14T06:00"));
    CHECK(parse_closure("ways:12 until 14:00").until == instant("2027-05-15T14:00"));
    CHECK(parse_closure("ways:12 until 14:06").until == instant("2027-05-14T14:06"));
    const auto dated = parse_closure("ways:12 from 2027-05-16T22:00 until 05:00");
    CHECK(dated.until == instant("2027-05-17T05:00"));
}

TEST_CASE("a road whose name holds the words of a closure keeps them") {
    const auto name = [](const char* text) {
        return std::get<routing::roads::RoadNamed>(parse_closure(text).where).name;
    };
    CHECK(name("road:Way from Hill until Mill") == "Way from Hill until Mill");
    CHECK(name("road:Way from Hill from 10:00") == "Way from Hill");
    CHECK(name("road:Road for Cattle for foot until 15:00") == "Road for Cattle");
    CHECK(parse_closure("road:Road for Cattle for foot until 15:00").foot);
}

TEST_CASE("a closure that can't be read names the option and the way to write it") {
    const std::pair<const char*, const char*> all[] = {
        {"Pass Road", "does not say what is closed"},
        {"", "does not say what is closed"},
        {"bridge:x", "does not say what is closed"},
        {"road:", "names no road"},
        {"road: @1,2", "names no road"},
        {"road:A@here", "is no position"},
        {"road:A@-8.4,-135.2,3", "is no position"},
        {"ways:", "is no list of way ids"},
        {"ways:12,", "is no list of way ids"},
        {"ways:12;13", "is no list of way ids"},
        {"ways:99999999999999999999", "is no list of way ids"},
        {"line:", "is no position"},
        {"line:1,2", "has 1 point"},
        {"line:1,2;3", "is no position"},
        {"line:1,2;95,4", "LAT and LON look swapped"},
        {"area:1,2;3,4", "has 2 corners"},
        {"area:1,2;3,4;5", "is no position"},
        {"circle:1,2", "is no circle"},
        {"circle:1,2,x", "is no circle"},
        {"circle:1,2,0", "radius out of range"},
        {"circle:1,2,-5", "radius out of range"},
        {"circle:100,2,5", "is no position: LAT and LON look swapped"},
        {"circle:100,200,5", "is no position"},
        {"ways:12 from 2027-05-14T10:00 until 2027-05-14T10:00", "ends before it begins"},
        {"ways:12 from 2027-05-14T10:00 until 2027-05-14T09:00", "ends before it begins"},
        {"ways:12 from 10:00 until 10:00", "ends before it begins"},
        {"ways:12 from 10:00 from 11:00", "says the same twice"},
        {"ways:12 from noon", "is no time"},
        {"ways:12 for bikes", "does not say whom it holds for"},
        {"road:Pass Road from 25:00", "is no time"},
        {"road:Pass Road until ", "is no time"},
        {"ways:12 until ", "is no time"},
        {" from 10:00", "does not say what is closed"},
    };
    CHECK(geo::describe(geo::InputFault{"a.json", "/b", "road \"X\"", "matches no road", ""}) ==
          "a.json: /b: 'road \"X\"' matches no road");
    for (const auto& [text, problem] : all) {
        const auto fault = fault_of(text);
        CAPTURE(text);
        CAPTURE(geo::describe(fault));
        CHECK(fault.field == "--close");
        CHECK(fixture::contains(fault.problem, problem));
        CHECK_FALSE(fault.mend.empty());
    }
}
