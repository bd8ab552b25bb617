#include "geo/nearest_name.hpp"

#include <doctest/doctest.h>

TEST_CASE("edit distance counts inserted, removed and replaced letters") {
    CHECK(geo::edit_distance("kitten", "sitting") == 3); // Wagner and Fischer's measure; the textbook pair
    CHECK(geo::edit_distance("", "abc") == 3);
    CHECK(geo::edit_distance("abc", "") == 3);
    CHECK(geo::edit_distance("Sunset", "sunset") == 0);
}

TEST_CASE("the nearest name is the one fewest letters away, the earlier one in a tie") {
    CHECK(geo::nearest_name("golden-evning", {"golden", "golden-evening", "golden-morning"}) == "golden-evening");
    CHECK(geo::nearest_name("x", {"b", "a"}) == "b");
    CHECK(geo::nearest_name("x", {}).empty());
}
