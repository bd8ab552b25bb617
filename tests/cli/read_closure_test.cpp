#include "shoot_fixture.hpp"

#include "cli/read_closure.hpp"

#include <doctest/doctest.h>

using namespace cli;
using namespace geo::literals;

namespace {

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
    };
    for (const auto& [text, problem] : all) {
        const auto fault = fault_of(text);
        CAPTURE(text);
        CAPTURE(geo::describe(fault));
        CHECK(fault.field == "--close");
        CHECK(fixture::contains(fault.problem, problem));
        CHECK_FALSE(fault.mend.empty());
    }
}
