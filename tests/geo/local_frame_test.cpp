#include "geo/local_frame.hpp"

#include "geo/geodesic.hpp"
#include "tests/support/near.hpp"

#include <doctest/doctest.h>

#include <cmath>

using geo::Coordinate;
using geo::Degrees;
using geo::LocalFrame;
using geo::LocalPoint;
using geo::Metres;
using namespace geo::literals;
using support::near;

namespace {

/// Largest relative error of a straight length from the origin, in all directions.
double worst_error(Degrees latitude, Metres reach) {
    const Coordinate origin{latitude, 12.3_deg};
    const LocalFrame frame(origin);
    double worst = 0.0;
    for (int bearing = 0; bearing < 360; bearing += 5) {
        const Coordinate end = geo::destination(origin, {static_cast<double>(bearing)}, reach);
        const Metres measured = geo::distance({}, frame.from(end));
        worst = std::max(worst, std::abs(measured.value / reach.value - 1.0));
    }
    return worst;
}

} // namespace

TEST_CASE("a local frame measures as exactly as its header says") {
    for (const Degrees latitude : {-60_deg, -35_deg, 0_deg, 28_deg, 47_deg, 60_deg}) {
        CAPTURE(latitude.value);
        CHECK(worst_error(latitude, 1'000_m) < 0.00006);
        CHECK(worst_error(latitude, 5'000_m) < 0.0003);
        CHECK(worst_error(latitude, 20'000_m) < 0.0011);
    }
    CHECK(worst_error(80_deg, 1'000_m) < 0.0002);
}

TEST_CASE("a local frame points east and north and leads back") {
    const LocalFrame frame({-20_deg, 44_deg});
    const LocalPoint point = frame.from({-19.99_deg, 44.02_deg});
    CHECK(point.north > 0_m);
    CHECK(point.east > 0_m);
    const Coordinate back = frame.to_coordinate(point);
    CHECK(near(back.latitude, -19.99_deg, 1e-12_deg));
    CHECK(near(back.longitude, 44.02_deg, 1e-12_deg));
}

TEST_CASE("a local frame does not notice the antimeridian") {
    const LocalFrame frame({-17_deg, 179.999_deg});
    const LocalPoint across = frame.from({-17_deg, -179.999_deg});
    CHECK(near(across.east, geo::distance({-17_deg, 179.999_deg}, {-17_deg, -179.999_deg}), 0.01_m));
    CHECK(near(frame.to_coordinate(across).longitude, -179.999_deg, 1e-9_deg));
}

TEST_CASE("the nearest point of a segment is the foot of the perpendicular or an end") {
    const LocalPoint start{0_m, 0_m};
    const LocalPoint end{10_m, 0_m};
    const auto beside = geo::nearest_on_segment({4_m, 3_m}, start, end);
    CHECK(beside.fraction == 0.4);
    CHECK(beside.distance == 3_m);
    CHECK(geo::nearest_on_segment({-3_m, 4_m}, start, end).fraction == 0.0);
    CHECK(geo::nearest_on_segment({-3_m, 4_m}, start, end).distance == 5_m);
    CHECK(geo::nearest_on_segment({13_m, 4_m}, start, end).fraction == 1.0);
    CHECK(geo::nearest_on_segment({13_m, 4_m}, start, end).distance == 5_m);
    const auto none = geo::nearest_on_segment({3_m, 4_m}, start, start);
    CHECK(none.fraction == 0.0);
    CHECK(none.distance == 5_m);
}
