#include "geo/sky/refraction.hpp"

#include "tests/support/near.hpp"

#include <doctest/doctest.h>

using geo::Degrees;
using geo::sky::refraction_from_apparent;
using geo::sky::refraction_from_true;
using namespace geo::literals;
using support::near;

namespace {
constexpr Degrees arcminutes(double value) {
    return {value / 60.0};
}
} // namespace

TEST_CASE("refraction agrees with published examples") {
    // Meeus, Astronomical Algorithms (1998), example 16.a.
    CHECK(near(refraction_from_apparent(0.5_deg), arcminutes(28.754), arcminutes(0.005)));
    CHECK(near(refraction_from_true(arcminutes(33.246)), arcminutes(24.618), arcminutes(0.005)));
    // Bennett 1982 at the horizon; almanacs round to 34'.
    CHECK(near(refraction_from_apparent(0_deg), arcminutes(34.48), arcminutes(0.05)));
    // NREL/TP-560-34302, table A5.1: 820 hPa, 11 C.
    CHECK(near(refraction_from_true(39.872046_deg, {{820.0}, {11.0}}), 0.016332_deg, 0.0002_deg));
    // JPL Horizons, refracted minus airless altitude.
    CHECK(near(refraction_from_true(-0.5309_deg), arcminutes(34.00), arcminutes(0.01)));
    CHECK(near(refraction_from_true(1.7086_deg), arcminutes(18.13), arcminutes(0.01)));
    CHECK(near(refraction_from_true(5.3442_deg), arcminutes(9.20), arcminutes(0.01)));
    CHECK(near(refraction_from_true(19.8504_deg), arcminutes(2.77), arcminutes(0.01)));
}

TEST_CASE("refraction is held below -1 degree and vanishes at the zenith") {
    CHECK(near(refraction_from_true(-1_deg), arcminutes(38.8), arcminutes(0.1)));
    for (const Degrees low : {-1.001_deg, -4.4_deg, -5.11_deg, -18_deg, -90_deg}) {
        CHECK(refraction_from_true(low) == refraction_from_true(-1_deg));
        CHECK(refraction_from_apparent(low) == refraction_from_apparent(-1_deg));
    }
    CHECK(refraction_from_true(90_deg) >= 0_deg);
    CHECK(refraction_from_true(90_deg) < arcminutes(0.01));
    CHECK(refraction_from_apparent(90_deg) >= 0_deg);
}

TEST_CASE("refraction from apparent altitude undoes refraction from true altitude as nearly as its header says") {
    for (Degrees altitude = -1_deg; altitude < 90_deg; altitude += 0.25_deg) {
        CAPTURE(altitude.value);
        const Degrees lifted = refraction_from_true(altitude);
        CHECK(near(refraction_from_apparent(altitude + lifted), lifted, arcminutes(altitude < -0.6_deg ? 0.65 : 0.1)));
        CHECK(refraction_from_true(altitude + 0.25_deg) <= lifted); // higher is less
    }
}
