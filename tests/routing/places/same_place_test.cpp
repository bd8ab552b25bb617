#include "routing/places/same_place.hpp"
#include "tests/routing/places/feature_fixture.hpp"
#include "tests/support/near.hpp"

#include <boost/geometry.hpp>
#include <doctest/doctest.h>

#include <random>
#include <set>

using fixture::at;
using fixture::node;
using fixture::square;
using namespace geo::literals;
using namespace routing::places;
using routing::roads::Feature;

namespace bg = boost::geometry;

namespace {

using Flat = bg::model::d2::point_xy<double>;
using Globe = bg::model::point<double, 2, bg::cs::geographic<bg::degree>>;

/// A star round `middle` with corners at random distances: never crosses itself.
Feature star(std::mt19937& random, geo::Coordinate middle, double size) {
    std::uniform_real_distribution<double> radius(0.2 * size, size);
    Feature feature = square(1, middle, size, {});
    feature.outline.clear();
    for (int i = 0; i < 12; ++i) {
        const double angle = i * 2.0 * 3.14159265358979 / 12;
        const double r = radius(random);
        double longitude = middle.longitude.value + r * std::cos(angle);
        if (longitude > 180.0)
            longitude -= 360.0;
        feature.outline.push_back(at(middle.latitude.value + r * std::sin(angle), longitude));
    }
    feature.outline.push_back(feature.outline.front());
    return feature;
}

} // namespace

TEST_CASE("inside agrees with Boost.Geometry on random outlines") {
    std::mt19937 random(20);
    std::uniform_real_distribution<double> offset(-0.01, 0.01);
    int inside = 0;
    for (int i = 0; i < 4000; ++i) {
        const Feature area = star(random, at(42.5, 1.5), 0.01);
        bg::model::polygon<Flat, false> polygon;
        for (const auto corner : area.outline)
            bg::append(polygon, Flat(corner.longitude.value, corner.latitude.value));
        const auto point = at(42.5 + offset(random), 1.5 + offset(random));
        const bool expected = bg::within(Flat(point.longitude.value, point.latitude.value), polygon);
        CHECK(lies_inside(point, area) == expected);
        inside += expected ? 1 : 0;
    }
    CHECK_MESSAGE((inside > 500 && inside < 3500), "both answers occur often: ", inside);
}

TEST_CASE("distance agrees with Boost.Geometry's geodesics to 0.1 % at every latitude and across the date line") {
    std::mt19937 random(21);
    std::uniform_real_distribution<double> offset(-0.002, 0.002);
    for (const double latitude : {-78.0, -40.0, 0.0, 15.0, 62.0, 83.0}) {
        for (const double longitude : {-30.0, 179.9999}) {
            const Feature area = star(random, at(latitude, longitude), 0.0005);
            bg::model::linestring<Globe> line;
            for (const auto corner : area.outline)
                bg::append(line, Globe(corner.longitude.value, corner.latitude.value));
            for (int i = 0; i < 20; ++i) {
                double east = longitude + offset(random);
                if (east > 180.0)
                    east -= 360.0;
                const auto point = at(latitude + offset(random), east);
                double expected = 1e9;
                for (std::size_t j = 1; j < line.size(); ++j)
                    expected = std::min(expected, bg::distance(Globe(east, point.latitude.value),
                                                               bg::model::segment<Globe>(line[j - 1], line[j]),
                                                               bg::strategy::distance::geographic_cross_track<>()));
                const geo::Metres found = distance_to(point, area);
                CHECK_MESSAGE(support::near(found, geo::Metres{expected}, geo::Metres{0.001 * expected + 0.001}),
                              latitude, " ", longitude, ": ", found.value, " against ", expected);
            }
        }
    }
}

TEST_CASE("each corner of an outline lies inside") {
    const Feature area = square(1, at(10, 20), 0.001, {});
    for (const auto corner : area.outline)
        CHECK(lies_inside(corner, area));
}

TEST_CASE("an outline of several rings holds what any of them holds") {
    Feature islands = square(1, at(10, 20), 0.001, {});
    const Feature second = square(1, at(10, 20.01), 0.001, {});
    islands.outline.insert(islands.outline.end(), second.outline.begin(), second.outline.end());
    CHECK(lies_inside(at(10, 20), islands));
    CHECK(lies_inside(at(10, 20.01), islands));
    CHECK_FALSE(lies_inside(at(10, 20.005), islands));
    CHECK_MESSAGE(distance_to(at(10, 20.005), islands) > 400_m, "no side leads from ring to ring");
}

TEST_CASE("a ring left open is closed, a ring with a repeated corner stays whole, a point has no inside") {
    Feature open = square(1, at(10, 20), 0.001, {});
    open.outline.pop_back();
    CHECK(lies_inside(at(10, 20), open));
    CHECK(lies_inside(at(10, 19.9991), open));
    Feature stutter = square(1, at(10, 20), 0.001, {});
    stutter.outline.insert(stutter.outline.begin(), stutter.outline.front());
    CHECK(lies_inside(at(10, 20), stutter));
    CHECK_FALSE(lies_inside(at(10.002, 20), stutter));
    CHECK_FALSE(lies_inside(at(10, 20), node(1, at(10, 20), {})));
    CHECK(distance_to(at(10, 20), node(1, at(10, 20), {})) == 0_m);
}

namespace {

using IndexPairs = std::set<std::pair<std::size_t, std::size_t>>;

/// Nodes and stars strewn over 0.003 degrees of latitude and as many metres of longitude.
std::vector<Feature> strewn(std::mt19937& random, geo::Coordinate south_west) {
    const double latitude = south_west.latitude.value;
    std::uniform_real_distribution<double> north(0.0, 0.003);
    std::uniform_real_distribution<double> east(0.0, 0.003 / std::cos(latitude / 57.3));
    std::vector<Feature> features;
    for (int i = 0; i < 400; ++i) {
        auto middle = at(latitude + north(random), south_west.longitude.value + east(random));
        if (middle.longitude.value > 180.0)
            middle.longitude.value -= 360.0;
        features.push_back(i % 3 != 0 ? node(i, middle, {}) : star(random, middle, 0.0003));
    }
    return features;
}

bool one_place(const Feature& a, const Feature& b, Closeness closeness) {
    if (lies_inside(a.at, b) || lies_inside(b.at, a))
        return true;
    if (closeness == Closeness::inside || (!a.outline.empty() && !b.outline.empty()))
        return false;
    return distance_to(a.at, b) <= beside || distance_to(b.at, a) <= beside;
}

IndexPairs every_pair(const std::vector<Feature>& features, Closeness closeness) {
    IndexPairs pairs;
    for (std::size_t a = 0; a < features.size(); ++a)
        for (std::size_t b = 0; b < features.size(); ++b)
            if (a != b && one_place(features[a], features[b], closeness))
                pairs.emplace(a, b);
    return pairs;
}

} // namespace

TEST_CASE("the sieve by latitude and longitude loses no pair that a look at every pair finds") {
    std::mt19937 random(22);
    for (const geo::Coordinate corner : {at(-0.0005, 0.0), at(60.0, 179.9995), at(88.5, 0.0), at(88.5, 179.9995)}) {
        const std::vector<Feature> features = strewn(random, corner);
        std::vector<const Feature*> pointers;
        pointers.reserve(features.size());
        for (const Feature& feature : features)
            pointers.push_back(&feature);
        for (const auto closeness : {Closeness::inside, Closeness::inside_or_beside}) {
            const auto found = same_place_pairs(pointers, closeness);
            const IndexPairs expected = every_pair(features, closeness);
            CHECK(IndexPairs(found.begin(), found.end()) == expected);
            CHECK(found.size() == expected.size());
            CHECK(expected.size() > 10);
        }
    }
}
