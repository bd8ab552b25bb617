#include "geo/terrain/sight_line.hpp"

#include "geo/geodesic.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace geo::literals;
using geo::Coordinate;
using geo::terrain::SightLine;

namespace {

double worst_error(double latitude, double longitude) {
    double worst = 0.0;
    for (int turn = 0; turn < 48; ++turn) {
        const double azimuth = 7.5 * turn;
        const Coordinate from{{latitude}, {longitude}};
        const SightLine line(from, {azimuth}, 60000_m);
        for (int part = 0; part <= 24; ++part) {
            const double distance = 2500.0 * part;
            Coordinate place = line.at({distance});
            place.longitude.value = std::remainder(place.longitude.value, 360.0);
            worst = std::max(worst, geo::distance(place, geo::destination(from, {azimuth}, {distance})).value);
        }
    }
    return worst;
}

} // namespace

TEST_CASE("a sight line keeps to the geodesic") {
    for (const double latitude : {0.0, 15.0, 47.0, -33.0, 60.0})
        CHECK(worst_error(latitude, 9.0) < 0.01);
    CHECK(worst_error(75.0, 9.0) < 0.05);
    CHECK(worst_error(80.0, 9.0) < 0.5);
    CHECK(worst_error(89.9, 9.0) < 1e-6); // solved for at every place
    CHECK(worst_error(-90.0, 9.0) < 1e-6);
}

TEST_CASE("a sight line crosses the 180th meridian") {
    CHECK(worst_error(-17.0, 179.9) < 0.01);
    CHECK(worst_error(-17.0, -180.0) < 0.01);
    CHECK(SightLine({-17_deg, 179.9_deg}, 90_deg, 60000_m).at(50000_m).longitude > 180_deg);
}
