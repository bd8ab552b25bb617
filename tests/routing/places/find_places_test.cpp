#include "routing/places/place.hpp"
#include "tests/routing/places/feature_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>

using fixture::at;
using fixture::node;
using fixture::square;
using namespace routing::places;
using routing::roads::Feature;
using routing::roads::OsmExtract;
using routing::roads::OsmObject;
using routing::roads::OsmType;

namespace {

std::vector<Place> places_of(std::vector<Feature> features) {
    OsmExtract extract;
    extract.features = std::move(features);
    return find_places(extract);
}

// 0.0001 degree of latitude is 11.1 m.
const geo::Coordinate village = at(-20.0, -30.0);
geo::Coordinate north_of_village(double metres) {
    return at(-20.0 + metres / 110704.0, -30.0); // length of a degree of latitude at 20 degrees on WGS 84
}

} // namespace

TEST_CASE("a place carries its object, point, hours and telephone as mapped") {
    const auto places = places_of({node(7, village,
                                        {{"amenity", "cafe"},
                                         {"name", "Tidewater"},
                                         {"opening_hours", "Mo-Fr 07:00-15:00; PH off"},
                                         {"contact:phone", "+00 1 23"}})});
    REQUIRE(places.size() == 1);
    CHECK(places[0].object == OsmObject{OsmType::node, 7});
    CHECK(places[0].kind == PlaceKind::cafe);
    CHECK(places[0].name == "Tidewater");
    CHECK(places[0].at == village);
    CHECK(places[0].opening_hours == "Mo-Fr 07:00-15:00; PH off");
    CHECK(places[0].phone == "+00 1 23");
    CHECK_FALSE(places[0].emergency);
}

TEST_CASE("website comes before contact:website, and that before url") {
    const auto website = [](fixture::Pairs tags) {
        tags.emplace_back("amenity", "pub");
        return places_of({node(1, village, std::move(tags))}).at(0).website;
    };
    CHECK(website({{"url", "c"}, {"contact:website", "b"}, {"website", "a"}}) == "a");
    CHECK(website({{"url", "c"}, {"contact:website", "b"}}) == "b");
    CHECK(website({{"url", "c"}}) == "c");
    CHECK(website({}).empty());
}

TEST_CASE("phone comes before contact:phone") {
    const auto places = places_of({node(1, village, {{"amenity", "pub"}, {"phone", "11"}, {"contact:phone", "22"}})});
    CHECK(places.at(0).phone == "11");
}

TEST_CASE("a name is kept raw: lists, right-to-left text and markup") {
    for (const std::string name : {"Kelp; Salt", "\u05DE\u05DC\u05D7", "<b>Salt</b> & \"Kelp\"", "A / B", " padded "}) {
        const auto places = places_of({node(1, village, {{"amenity", "cafe"}, {"name", name}})});
        CHECK(places.at(0).name == name);
    }
}

TEST_CASE("without a name stands the reference, without that the kind in words, and never the brand") {
    CHECK(places_of({node(1, village, {{"amenity", "parking"}, {"ref", "P4"}})}).at(0).name == "P4");
    CHECK(places_of({node(1, village, {{"amenity", "cafe"}, {"brand", "Chain"}})}).at(0).name == "unnamed café");
    CHECK(places_of({node(1, village, {{"tourism", "guest_house"}, {"name", "  "}})}).at(0).name ==
          "unnamed guest house");
}

TEST_CASE("a hotel with a restaurant is two places") {
    const auto places =
        places_of({node(3, village, {{"tourism", "hotel"}, {"amenity", "restaurant"}, {"name", "The Fathom"}})});
    REQUIRE(places.size() == 2);
    CHECK(places[0].kind == PlaceKind::restaurant);
    CHECK(places[1].kind == PlaceKind::hotel);
    CHECK(places[0].object == places[1].object);
}

TEST_CASE("what is no place for the crew is left out") {
    CHECK(places_of({node(1, village, {{"amenity", "bench"}}),
                     node(2, village, {{"disused:amenity", "cafe"}, {"name", "Old Tidewater"}}),
                     node(3, village, {{"amenity", "parking"}, {"access", "customers"}})})
              .empty());
}

TEST_CASE("a node inside the area of the same kind and name is merged into the area") {
    const auto places = places_of(
        {node(1, village, {{"tourism", "hotel"}, {"name", "The Fathom"}, {"phone", "11"}, {"opening_hours", "24/7"}}),
         square(9, village, 0.001, {{"tourism", "hotel"}, {"name", "The Fathom"}, {"opening_hours", "07:00-22:00"}})});
    REQUIRE(places.size() == 1);
    CHECK(places[0].object == OsmObject{OsmType::way, 9});
    CHECK_MESSAGE(places[0].opening_hours == "07:00-22:00", "the area's own hours stay");
    CHECK_MESSAGE(places[0].phone == "11", "the node fills in what the area lacks");
}

TEST_CASE("a node inside an area of another name or another kind stays a place of its own") {
    CHECK(places_of({node(1, village, {{"tourism", "hotel"}, {"name", "Annex"}}),
                     square(9, village, 0.001, {{"tourism", "hotel"}, {"name", "The Fathom"}})})
              .size() == 2);
    CHECK(places_of({node(1, village, {{"tourism", "hostel"}, {"name", "The Fathom"}}),
                     square(9, village, 0.001, {{"tourism", "hotel"}, {"name", "The Fathom"}})})
              .size() == 2);
    CHECK(places_of({node(1, village, {{"amenity", "parking"}}),
                     square(9, village, 0.001, {{"amenity", "parking"}, {"name", "Quay"}})})
              .size() == 2);
}

TEST_CASE("a named node within 30 m of its area or of another node is the same place, beyond it is not") {
    const fixture::Pairs cafe{{"amenity", "cafe"}, {"name", "Tidewater"}};
    const double edge = 0.0001 * 110704.0; // the square's northern side, metres from its middle
    CHECK(places_of({node(1, north_of_village(edge + 29.5), cafe), square(9, village, 0.0001, cafe)}).size() == 1);
    CHECK(places_of({node(1, north_of_village(edge + 30.5), cafe), square(9, village, 0.0001, cafe)}).size() == 2);
    CHECK(places_of({node(1, village, cafe), node(2, north_of_village(29.5), cafe)}).size() == 1);
    CHECK(places_of({node(1, village, cafe), node(2, north_of_village(30.5), cafe)}).size() == 2);
    CHECK_MESSAGE(places_of({node(1, village, cafe), node(2, north_of_village(29.5), cafe)}).at(0).object.id == 1,
                  "of two nodes the lower id stays");
}

TEST_CASE("unnamed objects are one place only when one lies inside the other") {
    const fixture::Pairs park{{"amenity", "parking"}};
    CHECK(places_of({node(1, village, park), node(2, north_of_village(10), park)}).size() == 2);
    CHECK(places_of({node(1, north_of_village(30), park), square(9, village, 0.0001, park)}).size() == 2);
    CHECK(places_of({node(1, north_of_village(5), park), square(9, village, 0.0001, park)}).size() == 1);
}

TEST_CASE("a building inside its own grounds is one place, the multipolygon stands for it") {
    const fixture::Pairs hospital{{"amenity", "hospital"}, {"name", "St Brine"}};
    Feature grounds = square(5, village, 0.001, hospital);
    grounds.object.type = OsmType::relation;
    Feature ward =
        square(6, north_of_village(20), 0.0001, {{"amenity", "hospital"}, {"name", "St Brine"}, {"emergency", "yes"}});
    const auto places = places_of({ward, grounds});
    REQUIRE(places.size() == 1);
    CHECK(places[0].object == OsmObject{OsmType::relation, 5});
    CHECK_MESSAGE(places[0].emergency, "the ward's emergency is the hospital's");
}

TEST_CASE("two car parks of one name across the road stay two") {
    const fixture::Pairs park{{"amenity", "parking"}, {"name", "Quay"}};
    CHECK(places_of({square(8, village, 0.0001, park), square(9, north_of_village(45), 0.0001, park)}).size() == 2);
}

TEST_CASE("places come sorted by object and kind, whatever order the features stand in") {
    std::vector<Feature> features{
        node(4, at(1, 1), {{"amenity", "fuel"}}),
        node(2, at(1, 2), {{"tourism", "hotel"}, {"amenity", "pub"}, {"name", "Fathom"}}),
        node(3, at(1, 2), {{"tourism", "hotel"}, {"name", "Fathom"}}),
        square(1, at(1, 2), 0.001, {{"tourism", "hotel"}, {"name", "Fathom"}}),
        node(-6, at(1, 3), {{"shop", "supermarket"}}),
    };
    const auto text = [](const std::vector<Place>& places) {
        std::string line;
        for (const Place& place : places)
            line += std::to_string(static_cast<int>(place.object.type)) + "/" + std::to_string(place.object.id) + " " +
                    std::string(to_string(place.kind)) + " " + place.name + "\n";
        return line;
    };
    const std::string expected = "0/-6 supermarket unnamed supermarket\n"
                                 "0/2 pub Fathom\n"
                                 "0/4 fuel unnamed fuel station\n"
                                 "1/1 hotel Fathom\n";
    std::mt19937 random(1);
    for (int i = 0; i < 20; ++i) {
        CHECK(text(places_of(features)) == expected);
        std::shuffle(features.begin(), features.end(), random);
    }
}

TEST_CASE("only a hospital has an emergency ward, and such come first among care") {
    const auto places = places_of({node(1, at(1, 1), {{"amenity", "pharmacy"}, {"emergency", "yes"}}),
                                   node(2, at(1, 2), {{"amenity", "hospital"}, {"emergency", "no"}}),
                                   node(3, at(1, 3), {{"amenity", "hospital"}, {"emergency", "yes"}}),
                                   node(4, at(1, 4), {{"amenity", "cafe"}})});
    const auto care = serving(Need::care, places);
    REQUIRE(care.size() == 3);
    CHECK(care[0].object.id == 3);
    CHECK(care[0].emergency);
    CHECK(care[1].object.id == 1);
    CHECK_FALSE(care[1].emergency);
    CHECK(care[2].object.id == 2);
    CHECK(serving(Need::bed, places).empty());
}

TEST_CASE("an extract without features has no places") {
    CHECK(places_of({}).empty());
}
