#include "geo/sky/illuminance.hpp"

#include "geo/sky/moonlit_sky.hpp"
#include "tests/support/near.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using geo::Degrees;
using geo::sky::Lux;
using geo::sky::Okta;
using geo::sky::SkyMagnitude;
using namespace geo::literals;
using support::near;

TEST_CASE("clear sky gives the light the Explanatory Supplement's polynomials give") {
    // Seidelmann (ed.), Explanatory Supplement (1992), after USNO Circular 171; evaluated by hand, 2 %.
    struct Row {
        double altitude, lux;
    };
    for (const Row& row : {Row{60, 103'000}, Row{20, 27'376}, Row{10, 11'100}, Row{0, 759}, Row{-4, 30}, Row{-6, 3.4},
                           Row{-8, 0.35}, Row{-12, 0.0081}, Row{-18, 0.00064}}) {
        CAPTURE(row.altitude);
        CHECK(near(geo::sky::clear_sky_illuminance({row.altitude}), {row.lux}, {0.025 * row.lux}));
    }
    // Held below; never falls while the sun climbs, but for the steps between the pieces, under 6 %.
    CHECK(geo::sky::clear_sky_illuminance(-60_deg) == geo::sky::clear_sky_illuminance(-18_deg));
    for (double altitude = -18.0; altitude < 89.9; altitude += 0.1)
        CHECK(geo::sky::clear_sky_illuminance({altitude + 0.1}).value >
              0.94 * geo::sky::clear_sky_illuminance({altitude}).value);
}

TEST_CASE("cloud takes its share of the light, and of what is left the sun's straight part first") {
    // Kasten and Czeplak, Solar Energy 24:177 (1980).
    CHECK(geo::sky::cloud_global_ratio({0}) == 1.0);
    CHECK(std::abs(geo::sky::cloud_global_ratio({4}) - 0.929) < 0.001);
    CHECK(std::abs(geo::sky::cloud_global_ratio({8}) - 0.25) < 1e-12);
    CHECK(std::abs(geo::sky::cloud_diffuse_share({4}) - 0.475) < 1e-12);
    CHECK(std::abs(geo::sky::direct_share({4}) - 0.49) < 0.005);
    CHECK(std::abs(geo::sky::direct_share({6}) - 0.22) < 0.005);
    CHECK(std::abs(geo::sky::direct_share({8})) < 1e-12);
    CHECK(geo::sky::cloud_global_ratio({9}) == geo::sky::cloud_global_ratio({8}));
    CHECK(geo::sky::illuminance(30_deg, Okta{8.0}) < geo::sky::illuminance(30_deg, Okta{2.0}));
}

TEST_CASE("shadows are as long as a low sun makes them, and there are none without it") {
    for (const auto& [altitude, ratio] : {std::pair{6.0, 9.5144}, std::pair{10.0, 5.6713}, std::pair{30.0, 1.7321},
                                          std::pair{45.0, 1.0}, std::pair{60.0, 0.5774}})
        CHECK(std::abs(*geo::sky::shadow_length_ratio({altitude}) - ratio) < 0.001);
    CHECK(!geo::sky::shadow_length_ratio(0_deg));
    CHECK(!geo::sky::shadow_length_ratio(-5_deg));
    CHECK(!geo::sky::shadow_length_ratio({std::nan("")}));
}

TEST_CASE("moonlit sky is as bright as Krisciunas and Schaefer make it") {
    // An example of their formulas worked through elsewhere: 45 degrees of phase, moon 70 from the zenith, line of
    // sight 20 from it, 50 apart, extinction 0.15: 19.855.
    CHECK(
        near(geo::sky::moonlit_sky({20_deg, 70_deg, 50_deg}, 45_deg, 0.15), SkyMagnitude{19.855}, SkyMagnitude{0.002}));
}

TEST_CASE("a thin or low moon brightens the sky little, a full one by magnitudes") {
    const auto phase_angle = [](double lit) { return Degrees{std::acos(2.0 * lit - 1.0) * 57.29577951308232}; };
    CHECK(geo::sky::sky_brightening(-1_deg, 0_deg) == SkyMagnitude{0.0});
    // What the limit of dark-sky rests on: a moon a tenth lit stands 37 degrees from the sun, so no more than 19 high
    // while the sun is below -18, and then brightens a sky of 21.6 by no more than 0.15.
    double worst = 0.0;
    for (double altitude = 0.0; altitude <= 19.0; altitude += 1.0)
        worst = std::max(worst, geo::sky::sky_brightening({altitude}, phase_angle(0.10)).value);
    CHECK(worst < 0.15);
    CHECK(worst > 0.05);
    CHECK(geo::sky::sky_brightening(45_deg, 0_deg).value > 2.5);
    CHECK(geo::sky::sky_brightening(45_deg, phase_angle(0.5)).value > 0.5);
    CHECK(geo::sky::sky_brightening(5_deg, 0_deg) < geo::sky::sky_brightening(45_deg, 0_deg));
}
