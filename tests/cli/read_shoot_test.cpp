#include "shoot_fixture.hpp"

#include <doctest/doctest.h>

using namespace std::chrono_literals;
using fixture::all_faults;
using fixture::has_fault;
using fixture::Json;
using fixture::ShootFixture;
using fixture::sound_shoot;

namespace {

/// One place of the sound file broken, and what is said about it. Null as value: the member is taken out.
struct Broken {
    const char* where; ///< JSON Pointer of what is replaced
    const char* value; ///< JSON
    const char* field; ///< JSON Pointer of the fault
    const char* problem;
    const char* mend;
};

void erase_at(Json& json, const Json::json_pointer& pointer) {
    json.at(pointer.parent_pointer()).erase(pointer.back());
}

void check_broken(const ShootFixture& files, const Broken& broken) {
    Json json = sound_shoot();
    const Json::json_pointer where(broken.where);
    if (std::string(broken.value).empty())
        erase_at(json, where);
    else
        json[where] = Json::parse(broken.value);
    const auto faults = files.faults(json);
    CAPTURE(std::string(broken.where));
    CAPTURE(std::string(broken.value));
    CAPTURE(all_faults(faults));
    CHECK(has_fault(faults, broken.field, broken.problem, broken.mend));
    for (const auto& fault : faults) {
        CHECK(fault.file == "shoot.json");
        CHECK_FALSE(fault.problem.empty());
        CHECK_FALSE(fault.mend.empty());
    }
}

} // namespace

TEST_CASE("a sound shoot file is read whole") {
    const ShootFixture files;
    const auto faults = files.faults(sound_shoot());
    REQUIRE_MESSAGE(faults.empty(), all_faults(faults));
    const auto shoot = files.read(sound_shoot());
    CHECK(shoot.title == "Salt");
    CHECK(shoot.zone_name == "Atlantic/Azores");
    CHECK(shoot.regions == std::vector{(files.folder() / "map.osm.pbf").string()});
    CHECK(shoot.crew.people == 3);
    CHECK(shoot.crew.vehicle.height == geo::Metres{2.6});
    CHECK(shoot.crew.vehicle.weight == geo::Tonnes{3.4});
    CHECK_FALSE(shoot.crew.vehicle.length);
    CHECK(shoot.crew.max_walk == 45min);
    CHECK(shoot.crew.turnaround == 630min);
    REQUIRE(shoot.base);
    CHECK(shoot.base->name == "Net loft");

    REQUIRE(shoot.days.size() == 2);
    CHECK(shoot.days[0].earliest_call == 4h);
    CHECK(shoot.days[0].end == routing::shoot::DayEdge::bed);
    CHECK(shoot.days[1].start == routing::shoot::DayEdge::bed);
    CHECK(shoot.days[1].end == routing::shoot::DayEdge::base);

    using routing::shoot::AvoidedKind;
    CHECK(shoot.crew.avoid == std::vector{AvoidedKind::unpaved, AvoidedKind::tolls});
    REQUIRE(shoot.locations.size() == 3);
    CHECK(shoot.locations[0].park_at.has_value());
    CHECK(shoot.locations[0].setup == 10min);
    CHECK(shoot.locations[1].name == "mill");
    CHECK(shoot.locations[1].pack == 0min);

    REQUIRE(shoot.scenes.size() == 3);
    const auto& opening = shoot.scenes[0];
    CHECK(opening.must);
    REQUIRE(opening.options.size() == 2);
    CHECK(opening.options[0].length == 45min);
    CHECK(opening.options[1].location == 1);
    CHECK(opening.options[1].length == 40min);
    CHECK(opening.options[1].sky == opening.options[0].sky);
    const auto clock = std::get<geo::ClockRange>(opening.options[1].light.at(0));
    CHECK(clock.from == 10h);
    CHECK(clock.until == 16h);
    CHECK_FALSE(shoot.scenes[1].must);
    CHECK(shoot.scenes[1].worth == 40);
    CHECK(shoot.scenes[1].not_before == geo::parse_instant("2027-05-14T10:00", shoot.zone));
    CHECK(shoot.scenes[1].not_after == geo::parse_instant("2027-05-15T17:30", shoot.zone));
    CHECK(shoot.holidays == std::vector{*geo::parse_date("2027-05-15")});
    CHECK(shoot.locations[2].open == "Mo-Su 06:00-22:00");
    CHECK(shoot.locations[1].walk_in_darkness);
    CHECK_FALSE(shoot.locations[0].walk_in_darkness);
    CHECK(shoot.scenes[1].after == std::vector<std::uint32_t>{0});
    const auto sun = std::get<geo::SunAltitudeRange>(shoot.scenes[1].options[0].light.at(1));
    CHECK(sun.low == geo::Degrees{-4});
    CHECK(sun.when == geo::HalfDay::evening);
    CHECK(shoot.scenes[2].options[0].length == 35min); // its shots together
    CHECK(shoot.scenes[2].must);
    CHECK(std::get<geo::LightName>(shoot.scenes[2].options[0].light.at(0)) == geo::LightName::any);

    REQUIRE(shoot.meals.size() == 1);
    CHECK(shoot.meals[0].within_of_call == 360min);
    REQUIRE(shoot.lodging);
    CHECK(shoot.lodging->kinds.size() == 2);
    REQUIRE(shoot.closures.size() == 5);
    CHECK(shoot.closures[1].label == "ways 12, -3");
    CHECK(shoot.warnings.empty());
    CHECK(shoot.crew.load_kg == doctest::Approx(12.0));
    CHECK(shoot.closures[4].label == "line of 2 points from -35.2,-8.4 to -35.21,-8.42");
    CHECK(std::get<routing::roads::Line>(shoot.closures[4].where).points.at(1) == geo::Coordinate{{-35.21}, {-8.42}});
}

TEST_CASE("comments and a byte order mark are read over") {
    const ShootFixture files;
    const std::string text = "\xEF\xBB\xBF// a shoot\n" + sound_shoot().dump(1) + "/* the end */\n";
    CHECK(files.faults_of_text(text).empty());
}

TEST_CASE("every broken member is named with its pointer and mend") {
    const ShootFixture files;
    const Broken all[] = {
        {"/title", "", "/title", "is missing", "name the shoot"},
        {"/title", "\" \"", "/title", "is empty", "name the shoot"},
        {"/title", "7", "/title", "is a number", "name the shoot"},
        {"/titel", "\"x\"", "/titel", "is no key", "\"title\""},
        {"/zzzzzzzzzz", "1", "/zzzzzzzzzz", "is no key", "known: title"},
        {"/a~1b", "1", "/a~1b", "is no key", "known: title"},
        {"/time_zone", "\"Atlantic/Azoros\"", "/time_zone", "is no time zone", "\"Atlantic/Azores\""},
        {"/time_zone", "", "/time_zone", "is missing", "Atlantic"},
        {"/region", "\"nowhere.pbf\"", "/region", "nowhere.pbf", "from the shoot file's folder"},
        {"/region", "\".\"", "/region", "is a folder", "map file"},
        {"/region", "[]", "/region", "is an empty list", "at least one"},
        {"/region", "[\"map.osm.pbf\", \"map.osm.pbf\"]", "/region/1", "is named twice", "once"},
        {"/region", "3", "/region", "is a number", "map file"},
        {"/terrain", "[\"a.hgt\"]", "/terrain/0", "is not there", "path"},
        {"/terrain", "[]", "/terrain", "is an empty list", "elevation tiles"},
        {"/terrain", "\"a.hgt\"", "/terrain", "is text", "list"},
        {"/forecast", "[]", "/forecast", "not supported by this version", "leave it out"},
        {"/crew/people", "0", "/crew/people", "out of range", "1 to 1000"},
        {"/crew/people", "2.5", "/crew/people", "is no whole number", "whole number"},
        {"/crew/people", "\"three\"", "/crew/people", "is text", "whole number"},
        {"/crew/latest_drive_minutes", "90", "/crew/latest_drive_minutes", "not supported", "latest_wrap"},
        {"/crew/turnaround_h", "-1", "/crew/turnaround_h", "out of range", "0 to 24 hours"},
        {"/crew/walk/max_minutes", "-5", "/crew/walk/max_minutes", "out of range", "minutes"},
        {"/crew/walk/load_kg", "1e30", "/crew/walk/load_kg", "out of range", "kg"},
        {"/crew/vehicle/kind", "\"boat\"", "/crew/vehicle/kind", "not supported", "van"},
        {"/crew/vehicle/height_m", "260", "/crew/vehicle/height_m", "out of range", "0.5 to 6 metres"},
        {"/crew/vehicle/weight_t", "3400", "/crew/vehicle/weight_t", "out of range", "tonnes"},
        {"/crew/vehicle/high_clearance", "\"no\"", "/crew/vehicle/high_clearance", "is text", "true or false"},
        {"/crew", "[]", "/crew", "is a list", "object"},
        {"/base/name", "", "/base/name", "is missing", "called"},
        {"/base/at", "", "/base/at", "is missing", "lat"},
        {"/base/at", "[1, 2]", "/base/at", "is a list", "object"},
        {"/base/at/lat", "", "/base/at/lat", "is missing", "lat"},
        {"/base/at/lat", "\"-35.2\"", "/base/at/lat", "is text", "without quotes"},
        {"/base/at/lat", "null", "/base/at/lat", "is null", "number"},
        {"/base/at/lta", "1", "/base/at/lta", "is no key", "lat, lon"},
        {"/base/at", "{\"lat\": 95, \"lon\": 100}", "/base/at/lat", "is no latitude", "-90 to 90"},
        {"/base/at", "{\"lat\": 10, \"lon\": 200}", "/base/at/lon", "is no longitude", "-180 to 180"},
        {"/base/at", "{\"lat\": 120.5, \"lon\": -35.2}", "/base/at/lat", "look swapped",
         "{\"lat\": -35.2, \"lon\": 120.5}"},
        {"/base/at", "{\"lat\": -8.4, \"lon\": -35.2}", "/base/at", "look swapped", "{\"lat\": -35.2, \"lon\": -8.4}"},
        {"/locations/1/at", "{\"lat\": -8.43, \"lon\": -35.22}", "/locations/1/at", "look swapped",
         "{\"lat\": -35.22, \"lon\": -8.43}"},
        {"/locations/0/park_at", "{\"lat\": -8.41, \"lon\": -35.21}", "/locations/0/park_at", "look swapped",
         "\"lat\": -35.21"},
        {"/crew/avoid", "[\"toll\"]", "/crew/avoid/0", "is nothing to avoid", "\"tolls\""},
        {"/crew/avoid", "[\"tolls\", \"motorways\"]", "/crew/avoid/1", "is nothing to avoid",
         "known: tolls, ferries, unpaved"},
        {"/crew/avoid", "\"ferries\"", "/crew/avoid", "is text", "list"},
        {"/crew/avoid/0", "true", "/crew/avoid/0", "is true or false", "\"tolls\""},
        {"/days", "", "/days", "is missing", "days"},
        {"/days", "[]", "/days", "is an empty list", "days"},
        {"/days/0", "1", "/days/0", "is a number", "object"},
        {"/days/0/date", "\"2027-02-30\"", "/days/0/date", "is not a date", "YYYY-MM-DD"},
        {"/days/0/date", "\"14.5.2027\"", "/days/0/date", "is not a date", "YYYY-MM-DD"},
        {"/days/0/date", "\"2627-05-14\"", "/days/0/date", "too far away", "1970 to 2100"},
        {"/days/0/date", "", "/days/0/date", "is missing", "YYYY-MM-DD"},
        {"/days/0/earliest_call", "\"25:10\"", "/days/0/earliest_call", "is not a time of day", "HH:MM"},
        {"/days/0/earliest_call", "\"4:00\"", "/days/0/earliest_call", "is not a time of day", "HH:MM"},
        {"/days/0/latest_wrap", "", "/days/0/latest_wrap", "is missing", "HH:MM"},
        {"/days/1/date", "\"2027-05-14\"", "/days/1/date", "stands twice", "once"},
        {"/days/1/date", "\"2027-05-13\"", "/days/1/date", "comes before 2027-05-14", "order of time"},
        {"/days/0/latest_wrap", "\"03:30\"", "", "", ""}, // the next date: sound, checked below
        {"/days/0/start", "\"hotel\"", "/days/0/start", "is no place for a day to start", "base, bed or anywhere"},
        {"/days/0/start", "\"bed\"", "/days/0/start", "no night comes before", "base or anywhere"},
        {"/lodging", "", "/days/0/end", "needs a bed", "lodging"},
        {"/base", "", "/days/0/start", "needs a base", "base"},
        {"/locations", "[]", "/locations", "is an empty list", "locations"},
        {"/locations", "", "/locations", "is missing", "locations"},
        {"/locations/1/id", "", "/locations/1/id", "is missing", "short name"},
        {"/locations/1/id", "\"arch\"", "/locations/1/id", "is the id of /locations/0 already", "of its own"},
        {"/locations/1/id", "\"old mill\"", "/locations/1/id", "is no id", "one word"},
        {"/locations/1/at", "", "/locations/1/at", "is missing", "lat"},
        {"/locations/0/open", "\"whenever\"", "/locations/0/open", "can't be read as opening hours",
         "Mo-Fr 08:00-18:00"},
        {"/locations/0/open", "\"\"", "/locations/0/open", "is empty", "Mo-Fr 08:00-18:00"},
        {"/locations/0/walk_in_darkness", "1", "/locations/0/walk_in_darkness", "is a number", "true or false"},
        {"/holidays", "\"2027-05-14\"", "/holidays", "is text", "list"},
        {"/holidays", "[\"14.5.2027\"]", "/holidays/0", "is not a date", "YYYY-MM-DD"},
        {"/locations/0/facing_deg", "400", "/locations/0/facing_deg", "out of range", "0 to 360"},
        {"/locations/0/setup_minutes", "-1", "/locations/0/setup_minutes", "out of range", "0 to 720 minutes"},
        {"/locations/0/notes", "5", "/locations/0/notes", "is a number", "text"},
        {"/scenes", "[]", "/scenes", "is an empty list", "scenes"},
        {"/scenes/1/id", "\"opening\"", "/scenes/1/id", "is the id of /scenes/0 already", "of its own"},
        {"/scenes/1/at", "\"mil\"", "/scenes/1/at", "is the id of no location", "\"mill\""},
        {"/scenes/1/at", "", "/scenes/1/at", "is missing", "id of a location"},
        {"/scenes/1/after", "[\"openng\"]", "/scenes/1/after/0", "is the id of no scene", "\"opening\""},
        {"/scenes/1/after", "[\"wheel\"]", "/scenes/1/after", "wheel after wheel", "take one"},
        {"/scenes/0/after", "[\"wheel\"]", "/scenes/0/after", "opening after wheel after opening", "take one"},
        {"/scenes/1/minutes", "0", "/scenes/1/minutes", "out of range", "1 to 1440 minutes"},
        {"/scenes/1/minutes", "-30", "/scenes/1/minutes", "out of range", "minutes"},
        {"/scenes/1/minutes", "30.5", "/scenes/1/minutes", "is no whole number", "minutes"},
        {"/scenes/1/minutes", "\"30\"", "/scenes/1/minutes", "is text", "whole number"},
        {"/scenes/1/minutes", "", "/scenes/1/minutes", "is missing", "minutes"},
        {"/scenes/0/minutes", "9", "/scenes/0/minutes", "less than its must-have shots", "fewer shots"},
        {"/scenes/0/or/0/minutes", "9", "/scenes/0/or/0/minutes", "less than its must-have shots", "fewer shots"},
        {"/scenes/0/shots/0/minutes", "0", "/scenes/0/shots/0/minutes", "out of range", "minutes"},
        {"/scenes/0/shots/0/title", "", "/scenes/0/shots/0/title", "is missing", "shot"},
        {"/scenes/0/shots/0/must", "1", "/scenes/0/shots/0/must", "is a number", "true or false"},
        {"/scenes/0/need", "\"maybe\"", "/scenes/0/need", "is no need", "must"},
        {"/scenes/0/need", "0", "/scenes/0/need", "out of range", "1 to 100"},
        {"/scenes/0/need", "101", "/scenes/0/need", "out of range", "1 to 100"},
        {"/scenes/0/need", "true", "/scenes/0/need", "true or false", "must"},
        {"/scenes/0/sky", "[\"claer\"]", "/scenes/0/sky/0", "is no sky", "\"clear\""},
        {"/scenes/0/gear", "\"lens\"", "/scenes/0/gear", "is text", "list"},
        {"/scenes/0/same_day_as", "[\"wheel\"]", "/scenes/0/same_day_as", "not supported", "after"},
        {"/scenes/0/right_after", "\"wheel\"", "/scenes/0/right_after", "not supported", "after"},
        {"/scenes/0/not_before", "\"10:00\"", "/scenes/0/not_before", "is not a date and time", "2027-05-14T"},
        {"/scenes/0/day", "\"2027-05-14\"", "/scenes/0/day", "not supported", "not_before"},
        {"/scenes/0/or/0/at", "\"peer\"", "/scenes/0/or/0/at", "is the id of no location", "\"pier\""},
        {"/scenes/0/or/0", "{}", "/scenes/0/or/0", "is the same as the scene itself", "change"},
        {"/scenes/0/or/0/need", "5", "/scenes/0/or/0/need", "is no key", "known"},
        {"/scenes/0/light", "\"golden-evenin\"", "/scenes/0/light", "is no light", "\"golden-evening\""},
        {"/scenes/0/light", "\"open-shade\"", "/scenes/0/light", "without the ground", "terrain"},
        {"/scenes/0/light", "{\"name\": \"direct-sun\"}", "/scenes/0/light", "without the ground", "terrain"},
        {"/scenes/0/light", "[]", "/scenes/0/light", "is an empty list", "lights"},
        {"/scenes/0/light", "{}", "/scenes/0/light", "asks for no light", "clock"},
        {"/scenes/0/light", "5", "/scenes/0/light", "is a number", "name"},
        {"/scenes/0/light", "{\"clock\": [\"10:00\"]}", "/scenes/0/light/clock", "holds 1 item", "two times"},
        {"/scenes/0/light", "{\"clock\": [\"10:00\", \"10:00\"]}", "/scenes/0/light/clock", "begins and ends",
         "different"},
        {"/scenes/0/light", "{\"clock\": [\"10:00\", \"16.00\"]}", "/scenes/0/light/clock/1", "is not a time", "HH:MM"},
        {"/scenes/0/light", "{\"clock\": [\"10:00\", \"16:00\"], \"when\": \"evening\"}", "/scenes/0/light/when",
         "only goes with sun_altitude", "leave it out"},
        {"/scenes/0/light", "{\"sun_altitude\": [6, -4]}", "/scenes/0/light/sun_altitude", "runs from high to low",
         "lower"},
        {"/scenes/0/light", "{\"sun_altitude\": [0, 95]}", "/scenes/0/light/sun_altitude/1", "out of range",
         "-90 to 90"},
        {"/scenes/0/light", "{\"sun_altitude\": [0]}", "/scenes/0/light/sun_altitude", "holds 1 item", "lowest"},
        {"/scenes/0/light", "{\"sun_altitude\": [0, 6], \"when\": \"noon\"}", "/scenes/0/light/when",
         "no half of the day", "morning"},
        {"/meals/0/name", "", "/meals/0/name", "is missing", "lunch"},
        {"/meals/0/between", "[\"11:30\", \"12:00\"]", "/meals/0/between", "30 min long", "widen"},
        {"/meals/0/between", "\"11:30\"", "/meals/0/between", "is text", "list"},
        {"/meals/0/minutes", "0", "/meals/0/minutes", "out of range", "minutes"},
        {"/meals/0/where", "\"home\"", "/meals/0/where", "is no way to eat", "packed"},
        {"/meals/0/where", "1", "/meals/0/where", "is a number", "packed"},
        {"/meals/0/where", "\"packed\"", "/meals/0/kinds", "only goes with", "leave it out"},
        {"/meals/0/where", "{\"name\": \"Inn\"}", "/meals/0/where/at", "is missing", "lat"},
        {"/meals/0/kinds", "[\"resturant\"]", "/meals/0/kinds/0", "is no kind of place", "\"restaurant\""},
        {"/meals/0/kinds", "[\"hotel\"]", "/meals/0/kinds/0", "is no place to eat", "restaurant"},
        {"/meals/0/kinds", "[]", "/meals/0/kinds", "is an empty list", "kinds"},
        {"/meals/0/within_h_of_call", "0", "/meals/0/within_h_of_call", "out of range", "hours"},
        {"/meals/1", "{\"name\": \"lunch\", \"between\": [\"18:00\", \"20:00\"], \"minutes\": 30}", "/meals/1",
         "name of another meal", "of its own"},
        {"/lodging/where", "\"tent\"", "/lodging/where", "is no way to sleep", "find"},
        {"/lodging/where", "", "/lodging/where", "is missing", "find"},
        {"/lodging/kinds", "[\"cafe\"]", "/lodging/kinds/0", "is no place to sleep", "hotel"},
        {"/lodging/where", "{\"name\": \"Inn\", \"at\": {\"lat\": -35.2, \"lon\": -8.4}}", "/lodging/kinds",
         "only goes with", "leave it out"},
        {"/closures/0", "{}", "/closures/0", "does not say what is closed", "road"},
        {"/closures/0", "{\"road\": \"A\", \"ways\": [1]}", "/closures/0", "more than one way", "one of"},
        {"/closures/0/road", "\"\"", "/closures/0/road", "is empty", "road"},
        {"/closures/0", "{\"line\": []}", "/closures/0/line", "has 0 points", "two"},
        {"/closures/0/for", "[]", "/closures/0/for", "is an empty list", "foot"},
        {"/closures/0/for", "[\"van\", \"bike\"]", "/closures/0/for/1", "is nobody", "foot"},
        {"/closures/0/from", "\"10:00\"", "/closures/0/from", "is not a date and time", "2027"},
        {"/closures/0/until", "17", "/closures/0/until", "is a number", "date and time"},
        {"/closures/3", "{\"ways\": [1], \"from\": \"2027-05-14T10:00\", \"until\": \"2027-05-14T10:00\"}",
         "/closures/3/until", "is not after from", "leave it out"},
        {"/closures/1/ways", "[]", "/closures/1/ways", "is an empty list", "ways"},
        {"/closures/1/ways/0", "1.5", "/closures/1/ways/0", "is no whole number", "id"},
        {"/closures/1/near", "{\"lat\": 1, \"lon\": 1}", "/closures/1/near", "only goes with road", "leave it out"},
        {"/closures/1/radius_m", "5", "/closures/1/radius_m", "only goes with point", "leave it out"},
        {"/closures/2/area/2", "{\"lat\": 91, \"lon\": 100}", "/closures/2/area/2/lat", "is no latitude", "-90"},
        {"/closures/2/area", "[{\"lat\": 1, \"lon\": 1}]", "/closures/2/area", "has 1 corner", "three"},
        {"/closures/4/line", "[{\"lat\": 1, \"lon\": 1}]", "/closures/4/line", "has 1 point", "two"},
        {"/closures/4/line", "true", "/closures/4/line", "is true or false", "list of points"},
        {"/closures/4/line/1/lat", "-90.5", "/closures/4/line/1/lat", "is no latitude", "-90"},
        {"/closures/4/area", "[]", "/closures/4", "more than one way", "one of"},
        {"/closures/3/radius_m", "", "/closures/3/radius_m", "is missing", "metres"},
        {"/closures/3/radius_m", "0", "/closures/3/radius_m", "out of range", "metres"},
    };
    for (const Broken& broken : all) {
        if (!std::string(broken.field).empty())
            check_broken(files, broken);
    }
}

TEST_CASE("all faults of a file are told at once, in the order of the file's parts") {
    const ShootFixture files;
    Json json = sound_shoot();
    json["days"][0]["date"] = "2027-02-30";
    json["scenes"][1]["minutes"] = -3;
    json["locations"][2]["at"]["lat"] = "x";
    json["colour"] = 1;
    const auto faults = files.faults(json);
    CAPTURE(all_faults(faults));
    REQUIRE(faults.size() == 4);
    CHECK(faults[0].field == "/colour");
    CHECK(faults[1].field == "/days/0/date");
    CHECK(faults[2].field == "/locations/2/at/lat");
    CHECK(faults[3].field == "/scenes/1/minutes");
    CHECK(geo::describe(faults[1]) ==
          "shoot.json: /days/0/date: \"2027-02-30\" is not a date; write YYYY-MM-DD, a day that exists");
}

TEST_CASE("a wrap not later than the call is on the next date, and days may not overlap") {
    const ShootFixture files;
    Json json = sound_shoot();
    json["days"][0]["latest_wrap"] = "03:30"; // of 15 May; the next call is at 09:30
    CHECK(files.faults(json).empty());
    json["days"][1]["earliest_call"] = "03:00";
    CHECK(has_fault(files.faults(json), "/days/1/earliest_call", "is before the latest wrap of the day before, 03:30",
                    "call later"));
}

TEST_CASE("a wrap on another date than the day in question says so") {
    const ShootFixture files;
    Json json = sound_shoot();
    json["days"][0]["latest_wrap"] = "03:30";
    json["days"][1] = {{"date", "2027-05-15"}, {"earliest_call", "03:00"}, {"latest_wrap", "02:00"}};
    json["days"][2] = {{"date", "2027-05-16"}, {"earliest_call", "01:00"}, {"latest_wrap", "23:00"}};
    CHECK(has_fault(files.faults(json), "/days/2/earliest_call", "the day before, 02:00"));
}

TEST_CASE("more than the solver takes is a fault of the file, at its place") {
    const ShootFixture files;
    const auto days = [](int count) {
        Json json = sound_shoot();
        json["days"] = Json::array();
        for (int n = 0; n < count; ++n) {
            const geo::CivilDate date{std::chrono::sys_days{*geo::parse_date("2027-05-01")} + std::chrono::days{n}};
            json["days"].push_back(
                {{"date", geo::to_string(date)}, {"earliest_call", "04:00"}, {"latest_wrap", "23:00"}});
        }
        return json;
    };
    CHECK(files.faults(days(31)).empty());
    CHECK(has_fault(files.faults(days(32)), "/days", "holds 32 days", "at most 31"));

    const auto meals = [](int count) {
        Json json = sound_shoot();
        while (json["meals"].size() < static_cast<std::size_t>(count)) {
            json["meals"].push_back(json["meals"][0]);
            json["meals"].back()["name"] = "meal " + std::to_string(json["meals"].size());
        }
        return json;
    };
    CHECK(files.faults(meals(8)).empty());
    CHECK(has_fault(files.faults(meals(9)), "/meals", "holds 9 meals", "at most 8"));

    const auto options = [](int others) {
        Json json = sound_shoot();
        Json& list = json["scenes"][0]["or"];
        list = Json::array();
        for (int n = 0; n < others; ++n)
            list.push_back({{"minutes", 100 + n}});
        return json;
    };
    CHECK(files.faults(options(399)).empty());
    CHECK(has_fault(files.faults(options(400)), "/scenes/0/or", "holds 400 other ways", "at most 399"));
}

TEST_CASE("a last wrap too long after the first call is a fault of that day's date") {
    const ShootFixture files;
    Json json = sound_shoot(); // first call 2027-05-14T04:00
    // 2^24 s later is 2027-11-24T08:20:16 in summer time, and the clocks went back an hour before that.
    json["days"][1]["date"] = "2027-11-24";
    json["days"][1]["earliest_call"] = "05:00";
    json["days"][1]["latest_wrap"] = "07:20";
    CHECK_MESSAGE(files.faults(json).empty(), all_faults(files.faults(json)));
    json["days"][1]["latest_wrap"] = "07:21";
    CHECK(has_fault(files.faults(json), "/days/1/date", "more than 194 days after the first call, on 2027-05-14",
                    "split"));
}

TEST_CASE("days start and end by the stated rules when the file does not say") {
    using routing::shoot::DayEdge;
    const ShootFixture files;
    const auto edges = [&](bool base, bool lodging) {
        Json json = sound_shoot();
        json["days"][0].erase("start");
        json["days"][0].erase("end");
        if (!base)
            json.erase("base");
        if (!lodging)
            json.erase("lodging");
        const auto shoot = files.read(json);
        return std::vector{shoot.days[0].start, shoot.days[0].end, shoot.days[1].start, shoot.days[1].end};
    };
    CHECK(edges(true, true) == std::vector{DayEdge::base, DayEdge::bed, DayEdge::bed, DayEdge::base});
    CHECK(edges(true, false) == std::vector{DayEdge::base, DayEdge::base, DayEdge::base, DayEdge::base});
    CHECK(edges(false, true) == std::vector{DayEdge::anywhere, DayEdge::bed, DayEdge::bed, DayEdge::bed});
    CHECK(edges(false, false) ==
          std::vector{DayEdge::anywhere, DayEdge::anywhere, DayEdge::anywhere, DayEdge::anywhere});
}

TEST_CASE("a day may only start in a bed when the day before ended in one") {
    const ShootFixture files;
    Json json = sound_shoot();
    json["days"][0]["end"] = "base";
    json["days"][1]["start"] = "bed";
    CHECK(has_fault(files.faults(json), "/days/1/start", "the day before does not end in a bed", "let the day before"));
}

TEST_CASE("after a night in a bed a day can't start at the base: the way there would not be planned") {
    const ShootFixture files;
    Json json = sound_shoot();
    json["days"][0]["end"] = "bed";
    json["days"][1]["start"] = "base";
    CHECK(has_fault(files.faults(json), "/days/1/start", "last night's bed to the base unplanned", "write bed"));
}

TEST_CASE("more scenes than can be ordered are refused") {
    const ShootFixture files;
    Json json = sound_shoot();
    json["scenes"] = Json::array();
    for (int n = 0; n < 65; ++n)
        json["scenes"].push_back({{"id", "s" + std::to_string(n)}, {"at", "arch"}, {"minutes", 5}});
    CHECK(has_fault(files.faults(json), "/scenes", "holds 65 scenes", "at most 64"));
    json["scenes"].erase(64);
    CHECK(files.faults(json).empty());
}

TEST_CASE("of two places alone the later one is taken for the swapped one") {
    const ShootFixture files;
    Json json = sound_shoot();
    json.erase("base");
    json["days"][0].erase("start");
    json["locations"].erase(2);
    json["scenes"].erase(2);
    json["locations"][0].erase("park_at");
    json["locations"][1]["at"] = {{"lat", -8.43}, {"lon", -35.22}};
    const auto faults = files.faults(json);
    CAPTURE(all_faults(faults));
    CHECK(faults.size() == 1);
    CHECK(has_fault(faults, "/locations/1/at", "look swapped", "\"lat\": -35.22"));
}

TEST_CASE("a shoot that spans oceans is no fault when no swapped place fits") {
    const ShootFixture files;
    Json json = sound_shoot();
    json["locations"][2]["at"] = {{"lat", 60.0}, {"lon", 10.0}};
    CHECK(files.faults(json).empty());
}

TEST_CASE("a list of one map file is as good as its name") {
    const ShootFixture files;
    Json json = sound_shoot();
    json["region"] = Json::array({"map.osm.pbf"});
    CHECK(files.read(json).regions.size() == 1);
}
