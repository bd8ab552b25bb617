#include "shoot_fixture.hpp"

#include "cli/close_option.hpp"
#include "cli/closure_words.hpp"
#include "cli/json_fields.hpp"
#include "cli/read_closure.hpp"

#include <doctest/doctest.h>

using cli::closure_text;
using namespace geo::literals;

namespace {

routing::roads::Closure parse_closure(const std::string& text) {
    return cli::parse_closure(text, [](const std::string& time) {
        const auto when = geo::parse_instant("2027-05-14T" + time, *geo::find_time_zone("UTC"));
        if (!when)
            throw geo::InputError({{"", "--close", time, "is no time", "write 14:05"}});
        return *when;
    });
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
    const auto instant = [&](const char* text) { return *geo::parse_instant(text, zone); };
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
        {"ways:12 from 10:00 until 10:00", "ends before it begins"},
        {"ways:12 from 10:00 until 09:00", "ends before it begins"},
        {"ways:12 from noon", "is no time"},
        {"ways:12 until ", "is no time"},
        {" from 10:00", "does not say what is closed"},
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
