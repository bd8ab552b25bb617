// Slopes on foot, on ground given by a formula.

#include "dice.hpp"
#include "hand_network.hpp"

#include "geo/geodesic.hpp"
#include "geo/terrain/elevation_sheet.hpp"
#include "routing/roads/foot/climb.hpp"
#include "routing/roads/foot/slope_pace.hpp"
#include "routing/roads/foot/walk_finder.hpp"
#include "routing/roads/strong_components.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <functional>

using namespace routing::roads;
using foot::Climb;
using foot::SlopePace;
using geo::terrain::ElevationSheet;
using geo::terrain::ElevationTile;
using geo::terrain::GridFrame;

namespace {

constexpr double metres_a_degree = 111'319.491; // along the equator of WGS 84

/// Around 0, 0, a post every 0.0002 degrees (22 m); heights by degrees north and east.
ElevationSheet ground(const std::function<double(double north, double east)>& height) {
    constexpr std::size_t side = 401;
    constexpr double step = 0.0002;
    const GridFrame frame{{-0.04}, {0.04}, {step}, {step}, side, side};
    std::vector<float> heights;
    for (std::size_t row = 0; row < side; ++row)
        for (std::size_t column = 0; column < side; ++column)
            heights.push_back(static_cast<float>(
                height(0.04 - step * static_cast<double>(row), -0.04 + step * static_cast<double>(column))));
    std::vector<ElevationTile> tiles;
    tiles.emplace_back("made", frame, std::move(heights));
    return ElevationSheet(std::move(tiles));
}

ElevationSheet rising_east(double slope) {
    return ground([=](double, double east) { return 1000.0 + slope * east * metres_a_degree; });
}

geo::Coordinate at(double north, double east) {
    return {{north}, {east}};
}

RoadNetwork with_parts(RoadNetwork network) {
    std::vector<std::uint32_t> heads;
    for (const Arc& arc : network.arcs)
        heads.push_back(value(arc.head));
    Components parts = strong_components(network.first_arc, heads);
    network.component = std::move(parts.of_node);
    network.component_size = std::move(parts.size);
    return network;
}

} // namespace

TEST_CASE("a slope slows as Tobler's function says") {
    // 6 exp(-3.5 |S + 0.05|) km/h, Tobler 1993, over its 5.037 km/h on the level.
    CHECK(foot::slowing_on(0.0) == doctest::Approx(1.0));
    CHECK(foot::slowing_on(-0.05) == doctest::Approx(5.0367 / 6.0).epsilon(0.0001));
    CHECK(foot::slowing_on(-0.10) == doctest::Approx(1.0));
    CHECK(foot::slowing_on(0.10) == doctest::Approx(std::exp(0.35)));
    CHECK(foot::slowing_on(-0.30) == doctest::Approx(std::exp(0.70)));
    CHECK(foot::slowing_on(5.0) == foot::slowing_on(1.0)); // no path
}

TEST_CASE("a path up a plane takes longer than down it, and its climb is the rise of the plane") {
    support::HandNetwork map;
    const auto a = map.junction(0.0, 0.0);
    const auto b = map.junction(0.0, 0.01);
    const auto edge = map.road(a, b, {.seconds = 1000.0});
    const RoadNetwork network = map.network();
    const ElevationSheet plane = rising_east(0.15);
    SlopePace pace(network, plane);
    CHECK(pace.crossing(edge, true) == doctest::Approx(1'000'000 * foot::slowing_on(0.15)).epsilon(0.001));
    CHECK(pace.crossing(edge, false) == doctest::Approx(1'000'000 * foot::slowing_on(-0.15)).epsilon(0.001));
    CHECK(pace.crossing(edge, true) == pace.crossing(edge, true));

    const auto climb = foot::climb_along({at(0.0, 0.0), at(0.0, 0.01)}, plane);
    REQUIRE(climb);
    CHECK(climb->up.value == doctest::Approx(0.15 * 0.01 * metres_a_degree).epsilon(0.002));
    CHECK(climb->down.value == doctest::Approx(0.0));
    CHECK(climb->steepest == doctest::Approx(0.15).epsilon(0.005));
    CHECK(climb->reversed().down.value == climb->up.value);
    CHECK(climb->reversed().up.value == climb->down.value);
}

TEST_CASE("small unevenness is no climb, a hill is climbed and left again") {
    const auto rough = ground([](double north, double east) { return 2.0 * std::sin(9000.0 * north + 7000.0 * east); });
    const auto level = foot::climb_along({at(0.0, -0.02), at(0.0, 0.02)}, rough);
    REQUIRE(level);
    CHECK(level->up.value + level->down.value < 5.0);
    const auto hill = ground(
        [](double north, double east) { return 200.0 * std::exp(-(north * north + east * east) / (0.005 * 0.005)); });
    const auto over = foot::climb_along({at(0.0, -0.02), at(0.0, 0.02)}, hill);
    REQUIRE(over);
    CHECK(over->up.value == doctest::Approx(200.0).epsilon(0.03));
    CHECK(over->down.value == doctest::Approx(200.0).epsilon(0.03));
    // The steepest of a Gaussian: sqrt(2 / e) x height / width.
    CHECK(over->steepest == doctest::Approx(0.8578 * 200.0 / (0.005 * metres_a_degree)).epsilon(0.03));
}

TEST_CASE("where the ground is not known a path counts as level and its climb is not told") {
    support::HandNetwork map;
    const auto a = map.junction(0.0, 1.0);
    const auto b = map.junction(0.0, 1.01);
    const auto edge = map.road(a, b, {.seconds = 1000.0});
    const RoadNetwork network = map.network();
    const ElevationSheet plane = rising_east(0.15);
    CHECK(SlopePace(network, plane).crossing(edge, true) == 1'000'000);
    CHECK_FALSE(foot::climb_along({at(0.0, 1.0), at(0.0, 1.01)}, plane));
    CHECK_FALSE(foot::climb_along({}, plane));
}

TEST_CASE("times of crooked paths over hills are what adding up every metre gives") {
    support::Dice dice(33);
    const auto hills =
        ground([](double north, double east) { return 300.0 * std::sin(300.0 * north) * std::cos(250.0 * east); });
    for (int round = 0; round < 20; ++round) {
        support::HandNetwork map;
        const geo::Coordinate from = at(dice.between(-0.02, 0.02), dice.between(-0.02, 0.02));
        const geo::Coordinate bend = at(dice.between(-0.02, 0.02), dice.between(-0.02, 0.02));
        const geo::Coordinate to = at(dice.between(-0.02, 0.02), dice.between(-0.02, 0.02));
        const auto edge =
            map.road(map.junction(from.latitude.value, from.longitude.value),
                     map.junction(to.latitude.value, to.longitude.value), {.seconds = 1000.0, .between = {bend}});
        const RoadNetwork network = map.network();
        double slowed = 0.0;
        double whole = 0.0;
        for (const auto& [a, b] : {std::pair{from, bend}, std::pair{bend, to}}) {
            const double length = geo::distance(a, b).value;
            const int steps = static_cast<int>(length / 12.0) + 1;
            for (int n = 0; n < steps; ++n) {
                const auto height = [&](int step) {
                    return hills.height(geo::point_along(a, b, geo::Metres{length * step / steps}))->value;
                };
                slowed += length / steps * foot::slowing_on((height(n + 1) - height(n)) / (length / steps));
                whole += length / steps;
            }
        }
        SlopePace pace(network, hills);
        CHECK(pace.crossing(edge, true) == doctest::Approx(1'000'000 * slowed / whole).epsilon(0.02));
    }
}

TEST_CASE("the quickest walk goes round a ridge that the shortest one climbs, and takes another time back") {
    support::HandNetwork map;
    const auto a = map.junction(0.0, -0.01);
    const auto b = map.junction(0.0, 0.01);
    const double straight = 0.02 * metres_a_degree / (4.0 / 3.6);
    map.road(a, b, {.seconds = straight});
    map.road(a, b, {.seconds = 1.5 * straight, .between = {{{0.02}, {0.0}}}});
    const RoadNetwork network = with_parts(map.network());
    const SnapIndex index(network);
    const ElevationSheet ridge = ground([](double north, double east) {
        return 500.0 * std::exp(-(north * north + east * east) / (0.004 * 0.004)) + 2000.0 * (east + 0.04);
    });
    const auto walked = [&](SlopePace* slopes) {
        foot::WalkFinder finder(network, index, {}, slopes);
        return finder.walks(at(0.0, 0.01), {at(0.0, -0.01)}, geo::Seconds{20'000}).front().value();
    };
    CHECK(walked(nullptr).line.size() == 2);
    CHECK(walked(nullptr).time == walked(nullptr).time_back);
    SlopePace slopes(network, ridge);
    const auto round = walked(&slopes);
    CHECK(round.line.size() == 3);
    CHECK(round.time > round.time_back); // it rises by 40 m
    CHECK(round.time == slopes.crossing(EdgeIndex{1}, true));
    CHECK(round.time_back == slopes.crossing(EdgeIndex{1}, false));
}
