#include "routing/places/place_kind.hpp"
#include "tests/routing/places/feature_fixture.hpp"

#include <doctest/doctest.h>

#include <set>
#include <string>

using routing::places::in_words;
using routing::places::Need;
using routing::places::need_of;
using routing::places::parse_place_kind;
using routing::places::PlaceKind;
using Kinds = std::vector<PlaceKind>;

namespace {
Kinds kinds(fixture::Pairs tags) {
    return routing::places::kinds_of(routing::roads::Tags(std::move(tags)));
}
} // namespace

TEST_CASE("every kind reads back from its own name and serves a need") {
    std::set<std::string> names;
    for (int i = 0; i <= static_cast<int>(PlaceKind::pharmacy); ++i) {
        const auto kind = static_cast<PlaceKind>(i);
        CHECK(parse_place_kind(to_string(kind)) == kind);
        CHECK_FALSE(in_words(kind).empty());
        names.insert(std::string(to_string(kind)));
    }
    CHECK(names.size() == 24);
    CHECK_FALSE(parse_place_kind("Restaurant"));
    CHECK_FALSE(parse_place_kind(""));
}

TEST_CASE("the tag the OSM wiki documents makes the place, the same word under another key does not") {
    CHECK(kinds({{"shop", "bakery"}}) == Kinds{PlaceKind::bakery});
    CHECK(kinds({{"amenity", "bakery"}}).empty());
    CHECK(kinds({{"tourism", "alpine_hut"}}) == Kinds{PlaceKind::alpine_hut});
    CHECK(kinds({{"highway", "trailhead"}}) == Kinds{PlaceKind::trailhead});
    CHECK(kinds({{"amenity", "charging_station"}}) == Kinds{PlaceKind::charging_station});
    CHECK(kinds({{"building", "hotel"}}).empty());
    CHECK(kinds({}).empty());
}

TEST_CASE("each need has its kinds") {
    CHECK(need_of(PlaceKind::supermarket) == Need::food);
    CHECK(need_of(PlaceKind::fuel) == Need::fuel);
    CHECK(need_of(PlaceKind::charging_station) == Need::fuel);
    CHECK(need_of(PlaceKind::caravan_site) == Need::bed);
    CHECK(need_of(PlaceKind::trailhead) == Need::parking);
    CHECK(need_of(PlaceKind::pharmacy) == Need::care);
}

TEST_CASE("an object can be two places: by two keys or by a list of values") {
    CHECK(kinds({{"tourism", "hotel"}, {"amenity", "restaurant"}}) == Kinds{PlaceKind::restaurant, PlaceKind::hotel});
    CHECK(kinds({{"amenity", "parking;fuel"}}) == Kinds{PlaceKind::fuel, PlaceKind::parking});
    CHECK(kinds({{"amenity", "nightclub; restaurant"}}) == Kinds{PlaceKind::restaurant});
    CHECK(kinds({{"amenity", ";;"}}).empty());
}

TEST_CASE("what is out of use is no place, what was something else before is") {
    CHECK(kinds({{"disused:amenity", "restaurant"}}).empty());
    CHECK(kinds({{"abandoned:tourism", "hotel"}}).empty());
    CHECK(kinds({{"amenity", "fuel"}, {"disused", "yes"}}).empty());
    CHECK(kinds({{"amenity", "fuel"}, {"abandoned", "yes"}}).empty());
    CHECK(kinds({{"amenity", "fuel"}, {"disused", "no"}}) == Kinds{PlaceKind::fuel});
    CHECK(kinds({{"amenity", "pub"}, {"disused:amenity", "pub"}}).empty());
    CHECK(kinds({{"amenity", "pub"}, {"abandoned:amenity", "yes"}}).empty());
    CHECK(kinds({{"amenity", "cafe"}, {"disused:amenity", "pub"}}) == Kinds{PlaceKind::cafe});
    CHECK(kinds({{"amenity", "restaurant"}, {"tourism", "hotel"}, {"disused:tourism", "hotel"}}) ==
          Kinds{PlaceKind::restaurant});
}

TEST_CASE("what is shut to strangers is no place") {
    CHECK(kinds({{"amenity", "restaurant"}, {"access", "private"}}).empty());
    CHECK(kinds({{"amenity", "restaurant"}, {"access", "no"}}).empty());
    CHECK(kinds({{"amenity", "restaurant"}, {"access", "private;no"}}).empty());
    CHECK(kinds({{"amenity", "restaurant"}, {"access", "customers"}}) == Kinds{PlaceKind::restaurant});
    CHECK(kinds({{"tourism", "camp_site"}, {"access", "private;customers"}}) == Kinds{PlaceKind::camp_site});
}

TEST_CASE("a car park is a place only when anyone may park there") {
    for (const char* open : {"yes", "permissive", "public", "destination", "designated", "unknown", "private;yes"})
        CHECK_MESSAGE(kinds({{"amenity", "parking"}, {"access", open}}) == Kinds{PlaceKind::parking}, open);
    for (const char* shut : {"private", "no", "customers", "permit", "residents", "employees", "customers;private"})
        CHECK_MESSAGE(kinds({{"amenity", "parking"}, {"access", shut}}).empty(), shut);
    CHECK(kinds({{"amenity", "parking"}}) == Kinds{PlaceKind::parking});
}

TEST_CASE("a charger for bicycles is none for the van") {
    CHECK(kinds({{"amenity", "charging_station"}, {"bicycle", "yes"}, {"motorcar", "no"}}).empty());
    CHECK(kinds({{"amenity", "charging_station"}, {"bicycle", "yes"}}) == Kinds{PlaceKind::charging_station});
}
