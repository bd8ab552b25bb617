#include "routing/roads/outlines.hpp"

#include <doctest/doctest.h>

#include <random>

using namespace routing::roads;
using geo::Coordinate;
using geo::Degrees;

namespace {
Coordinate at(double latitude, double longitude) {
    return {Degrees{latitude}, Degrees{longitude}};
}
} // namespace

TEST_CASE("pieces join to rings in either direction") {
    const JoinedRings joined = join_rings({{1, 2, 3}, {5, 1}, {5, 4, 3}, {7, 8, 9, 7}});
    CHECK(joined.complete);
    REQUIRE(joined.rings.size() == 2);
    CHECK(joined.rings[0] == std::vector<OsmId>{1, 2, 3, 4, 5, 1});
    CHECK(joined.rings[1] == std::vector<OsmId>{7, 8, 9, 7});
}

TEST_CASE("pieces that close no ring are told") {
    CHECK_FALSE(join_rings({{1, 2, 3}, {3, 4}}).complete);
    CHECK_FALSE(join_rings({{1, 2, 3, 1}, {3, 4}}).complete);
    CHECK(join_rings({}).rings.empty());
}

TEST_CASE("a hole holds no inner point") {
    const auto inside = point_inside(
        {{at(0, 0), at(0, 3), at(3, 3), at(3, 0), at(0, 0)}, {at(1, 1), at(1, 2), at(2, 2), at(2, 1), at(1, 1)}});
    const bool in_hole = inside.latitude.value > 1 && inside.latitude.value < 2 && inside.longitude.value > 1 &&
                         inside.longitude.value < 2;
    CHECK_FALSE(in_hole);
    CHECK(inside.latitude.value > 0);
    CHECK(inside.latitude.value < 3);
    CHECK(inside.longitude.value > 0);
    CHECK(inside.longitude.value < 3);
}

TEST_CASE("an area across longitude 180 has its point near there") {
    const auto inside = point_inside({{at(0, 179.9), at(0, -179.9), at(0.2, -179.9), at(0.2, 179.9), at(0, 179.9)}});
    CHECK(std::abs(inside.longitude.value) > 179.89);
    CHECK(inside.latitude.value == doctest::Approx(0.1));
}

TEST_CASE("areas without extent have their corners' mean") {
    CHECK(point_inside({{at(1, 1)}}) == at(1, 1));
    CHECK(point_inside({{at(1, 1), at(1, 3), at(1, 1)}}).latitude.value == doctest::Approx(1.0));
}

TEST_CASE("the point lies inside random star-shaped areas") {
    std::mt19937 random{7};
    std::uniform_real_distribution<double> reach{0.1, 1.0};
    for (int round = 0; round < 200; ++round) {
        std::vector<Coordinate> ring;
        for (int i = 0; i < 12; ++i) {
            const double angle = i * 2.0 * 3.14159265358979 / 12.0;
            const double r = reach(random);
            ring.push_back(at(r * std::sin(angle), r * std::cos(angle)));
        }
        ring.push_back(ring.front());
        const Coordinate p = point_inside({ring});
        // Winding number, another method than the one under test.
        double turned = 0.0;
        for (std::size_t i = 0; i + 1 < ring.size(); ++i) {
            const double ax = ring[i].longitude.value - p.longitude.value;
            const double ay = ring[i].latitude.value - p.latitude.value;
            const double bx = ring[i + 1].longitude.value - p.longitude.value;
            const double by = ring[i + 1].latitude.value - p.latitude.value;
            turned += std::atan2(ax * by - ay * bx, ax * bx + ay * by);
        }
        CHECK(std::abs(turned) == doctest::Approx(2.0 * 3.14159265358979));
    }
}
