// What the driver is told, on roads drawn by hand.

#include "hand_network.hpp"
#include "routing/roads/directions.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

using namespace routing::roads;
using support::HandNetwork;

namespace {

/// On the equator a degree east is as long as one north to 0.7 %, so bearings can be drawn with sine and cosine.
geo::Coordinate from_centre(double bearing, double metres) {
    const double radians = bearing * std::numbers::pi / 180.0;
    return {{std::cos(radians) * metres / 111000.0}, {std::sin(radians) * metres / 111000.0}};
}

OsmId junction(HandNetwork& map, geo::Coordinate at) {
    return map.junction(at.latitude.value, at.longitude.value);
}

RoadPoint on(const RoadNetwork& network, EdgeIndex edge, double fraction) {
    return {edge, fraction, point_on_edge(network, edge, fraction), {}};
}

std::vector<Instruction> told(const RoadNetwork& network, EdgeIndex from, EdgeIndex to) {
    const auto path = quickest_path(network, on(network, from, 0.1), on(network, to, 0.9));
    REQUIRE(path);
    return directions(network, *path);
}

/// Northwards to a junction, then off at `angle`, to the right positive.
std::vector<Instruction> told_at(double angle, const std::string& name_after, std::uint16_t notes = note_none) {
    HandNetwork map;
    const auto south = junction(map, from_centre(180.0, 500.0));
    const auto middle = junction(map, {});
    const auto end = junction(map, from_centre(angle, 500.0));
    const auto first = map.road(south, middle, {.name = "Mill Lane"});
    const auto second = map.road(middle, end, {.name = name_after, .notes = notes});
    return told(map.network(), first, second);
}

} // namespace

TEST_CASE("each turn is told by its word, left and right") {
    const std::pair<double, Turn> all[] = {
        {0, Turn::straight_on},   {19, Turn::straight_on},  {-19, Turn::straight_on}, {22, Turn::bear_right},
        {-22, Turn::bear_left},   {44, Turn::bear_right},   {-44, Turn::bear_left},   {47, Turn::turn_right},
        {-47, Turn::turn_left},   {90, Turn::turn_right},   {-90, Turn::turn_left},   {118, Turn::turn_right},
        {122, Turn::sharp_right}, {-122, Turn::sharp_left}, {168, Turn::sharp_right}, {-168, Turn::sharp_left},
        {175, Turn::turn_round},  {-175, Turn::turn_round},
    };
    for (const auto& [angle, turn] : all) {
        CAPTURE(angle);
        const auto steps = told_at(angle, "Ridge Road");
        REQUIRE(steps.size() == 2);
        CHECK(steps[0].turn == Turn::set_off);
        CHECK(steps[0].heading == Heading::north);
        CHECK(steps[0].name == "Mill Lane");
        CHECK(steps[1].turn == turn);
        CHECK(steps[1].name == "Ridge Road");
        CHECK(std::abs(steps[1].length.value - 450.0) < 5.0);
        CHECK(steps[1].time == 54000);
    }
}

TEST_CASE("a road that keeps its name is told again only where it turns") {
    for (const double angle : {0.0, 30.0, -40.0})
        CHECK(told_at(angle, "Mill Lane").size() == 1);
    const auto steps = told_at(-80.0, "Mill Lane");
    REQUIRE(steps.size() == 2);
    CHECK(steps[1].turn == Turn::turn_left);
    CHECK(steps[1].heading == Heading::west);
}

TEST_CASE("the heading is one of eight") {
    for (int eighth = 0; eighth < 8; ++eighth) {
        HandNetwork map;
        const auto middle = junction(map, {});
        const auto end = junction(map, from_centre(45.0 * eighth + 10.0, 400.0));
        const auto edge = map.road(middle, end, {.name = "Mill Lane"});
        const auto steps = told(map.network(), edge, edge);
        REQUIRE(steps.size() == 1);
        CHECK(steps[0].heading == static_cast<Heading>(eighth));
    }
    CHECK(heading_of({359.0}) == Heading::north);
    CHECK(heading_of({-90.0}) == Heading::west);
    CHECK(heading_of({180.0}) == Heading::south);
}

TEST_CASE("a corner drawn with a short slant is still a turn") {
    HandNetwork map;
    const auto south = junction(map, from_centre(180.0, 500.0));
    const auto middle = junction(map, {});
    const auto end = map.junction(0.00003, 0.005);
    const auto first = map.road(south, middle, {.name = "Mill Lane"});
    // The first 3 m of the side road run on northwards: the last segment alone would say straight on.
    const auto second = map.road(middle, end, {.name = "Ridge Road", .between = {{{0.00003}, {0.0}}}});
    const auto steps = told(map.network(), first, second);
    REQUIRE(steps.size() == 2);
    CHECK(steps[1].turn == Turn::turn_right);
}

TEST_CASE("the turn is taken over a junction's unnamed inside, which is not told") {
    HandNetwork map;
    const auto south = junction(map, from_centre(180.0, 500.0));
    const auto near = junction(map, {});
    const auto far = junction(map, from_centre(45.0, 15.0));
    const auto east = map.junction(0.0000955, 0.005);
    const auto first = map.road(south, near, {.name = "Mill Lane"});
    map.road(near, far, {.seconds = 2});
    const auto last = map.road(far, east, {.name = "Ridge Road"});
    const auto network = map.network();
    const auto steps = told(network, first, last);
    REQUIRE(steps.size() == 2);
    CHECK(steps[0].time == 56000);
    CHECK(steps[1].turn == Turn::turn_right);
    // Set off on the inside itself: it joins the road that follows.
    const auto from_inside = told(network, EdgeIndex{1}, last);
    REQUIRE(from_inside.size() == 1);
    CHECK(from_inside[0].name == "Ridge Road");
}

TEST_CASE("a ferry is boarded whatever the angle and left again by the turn at the slip") {
    HandNetwork map;
    const auto south = junction(map, from_centre(180.0, 500.0));
    const auto slip = junction(map, {});
    const auto pier = junction(map, from_centre(90.0, 3000.0));
    const auto end = map.junction(0.005, 3000.0 / 111000.0);
    const auto first = map.road(south, slip, {.name = "Sound"});
    map.road(slip, pier, {.seconds = 1500, .name = "Sound", .notes = note_ferry});
    const auto last = map.road(pier, end, {.name = "Sound"});
    const auto steps = told(map.network(), first, last);
    REQUIRE(steps.size() == 3);
    CHECK(steps[1].turn == Turn::board_ferry);
    CHECK(steps[1].time == 1500000);
    CHECK(steps[1].notes == note_ferry);
    CHECK(steps[2].turn == Turn::turn_left);
    CHECK(steps[2].notes == note_none);
}

TEST_CASE("going back along the road one came by is turning round, at a bend too") {
    HandNetwork map;
    const auto south = junction(map, from_centre(180.0, 500.0));
    const auto middle = junction(map, {});
    const auto first = map.road(south, middle, {.name = "Mill Lane", .between = {{{-0.0001}, {0.002}}}});
    const auto network = map.network();
    Path path;
    path.pieces = {{first, true, 0.5, 1.0}, {first, false, 0.0, 0.5}};
    path.time = 60000;
    const auto steps = directions(network, path);
    REQUIRE(steps.size() == 2);
    CHECK(steps[1].turn == Turn::turn_round);
    CHECK(steps[0].time + steps[1].time == path.time);
}

TEST_CASE("every note of the roads is passed on with the stretch it belongs to") {
    for (const std::uint16_t note : {note_toll, note_gate, note_ford, note_unpaved, note_track, note_steep,
                                     note_doubtful_access, note_low_clearance, note_steps, note_not_in_darkness}) {
        const auto steps = told_at(90.0, "Ridge Road", note);
        REQUIRE(steps.size() == 2);
        CHECK(steps[0].notes == note_none);
        CHECK(steps[1].notes == note);
        CHECK(told_at(0.0, "Mill Lane", note).at(0).notes == note);
    }
}

TEST_CASE("a path of no length needs no words") {
    HandNetwork map;
    const auto a = map.junction(0.0, 0.0);
    const auto b = map.junction(0.0, 0.01);
    map.road(a, b);
    CHECK(directions(map.network(), Path{}).empty());
}

namespace {

/// A ring driven clockwise from its south through west, north and east, with an arm at each; the north arm is one-way
/// in, so no way out.
struct Ring {
    HandNetwork map;
    EdgeIndex arms[4]; // south, west, north, east
    EdgeIndex ring[4]; // from south to west, and on

    Ring() {
        OsmId inner[4];
        OsmId outer[4];
        for (int n = 0; n < 4; ++n) {
            inner[n] = junction(map, from_centre(180.0 + 90.0 * n, 15.0));
            outer[n] = junction(map, from_centre(180.0 + 90.0 * n, 500.0));
        }
        const char* const names[] = {"South Road", "West Road", "North Road", "East Road"};
        for (int n = 0; n < 4; ++n) {
            arms[n] = map.road(outer[n], inner[n],
                               {.open = n == 2 ? support::Ways::forward : support::Ways::both, .name = names[n]});
            ring[n] = map.road(inner[n], inner[(n + 1) % 4],
                               {.seconds = 2, .open = support::Ways::forward, .roundabout = true});
        }
    }
    std::vector<Instruction> tell(EdgeIndex from, EdgeIndex to, double share) const {
        const RoadNetwork network = map.network();
        const auto path = quickest_path(network, on(network, from, 0.5), on(network, to, share));
        REQUIRE(path);
        return directions(network, *path);
    }
};

} // namespace

TEST_CASE("a roundabout is one instruction with the number of its way out and the road that leads to") {
    const Ring map;
    const auto first = map.tell(map.arms[0], map.arms[1], 0.5);
    REQUIRE(first.size() == 2);
    CHECK(first[1].turn == Turn::roundabout);
    CHECK(first[1].exit == 1);
    CHECK(first[1].name == "West Road");
    CHECK(first[1].time == 32000); // two seconds on the ring, half of a minute's road
    const auto second = map.tell(map.arms[0], map.arms[3], 0.5);
    REQUIRE(second.size() == 2);
    CHECK(second[1].exit == 2); // the arm that only leads in is no way out
    CHECK(second[1].name == "East Road");
    const auto from_north = map.tell(map.arms[2], map.arms[1], 0.5);
    REQUIRE(from_north.size() == 2);
    CHECK(from_north[1].exit == 3);
}

TEST_CASE("a leg that ends on a roundabout has no way out, one that begins there is told a turn") {
    const Ring map;
    const auto in = map.tell(map.arms[0], map.ring[1], 0.5);
    REQUIRE(in.size() == 2);
    CHECK(in[1].turn == Turn::roundabout);
    CHECK(in[1].exit == 0);
    const auto out = map.tell(map.ring[0], map.arms[1], 0.5);
    REQUIRE(out.size() == 2);
    CHECK(out[0].turn == Turn::set_off);
    CHECK(out[1].turn != Turn::roundabout);
    CHECK(out[1].name == "West Road");
}
