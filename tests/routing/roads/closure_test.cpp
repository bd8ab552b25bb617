#include "routing/roads/closure.hpp"

#include "hand_network.hpp"
#include "routing/roads/drawn_line.hpp"
#include "routing/roads/edge_geometry.hpp"
#include "routing/roads/road_name.hpp"

#include <doctest/doctest.h>

#include <random>

using namespace geo::literals;
using namespace routing::roads;
using support::HandNetwork;

namespace {

geo::Coordinate at(double latitude, double longitude) {
    return {{latitude}, {longitude}};
}

std::vector<std::uint32_t> numbers(const ClosureMatch& match) {
    std::vector<std::uint32_t> result;
    for (const EdgeIndex edge : match.edges)
        result.push_back(value(edge));
    return result;
}

using Edges = std::vector<std::uint32_t>;
using Texts = std::vector<std::string>;

/// A road from west to east in four edges of about 912 m (0.01 degrees), with a gap after the second, and others north.
struct Village {
    HandNetwork map;
    RoadNetwork network;
    std::unique_ptr<SnapIndex> index;

    Village() {
        const auto j = [&](double latitude, double longitude) { return map.junction(latitude, longitude); };
        const auto a = j(-35.0, -20.0), b = j(-35.0, -19.99), c = j(-35.0, -19.98);
        const auto d = j(-35.0, -19.97), e = j(-35.0, -19.96), f = j(-35.0, -19.95);
        const auto north = j(-34.99, -19.98);
        map.road(a, b, {.name = "Ridge Road (B 12)", .way = 101});                                                  // 0
        map.road(b, c, {.name = "Ridge Road (B 12)", .way = 101});                                                  // 1
        map.road(c, d, {.name = "Mill Lane;Old Mill", .way = 102});                                                 // 2
        map.road(d, e, {.name = "Ridge Road (B 12)", .way = 103});                                                  // 3
        map.road(e, f, {.name = "RIDGE ROAD", .way = 104});                                                         // 4
        map.road(c, north, {.name = "Carrer de Sant Julià (B 12;E 4)", .way = 105});                                // 5
        map.road(north, j(-34.99, -19.97), {.way = 106});                                                           // 6
        map.road(north, j(-34.98, -19.98), {.open = support::Ways::none, .name = "Ridge Road (B 12)", .way = 107}); // 7
        network = map.network();
        index = std::make_unique<SnapIndex>(network);
    }

    ClosureMatch match(const ClosedWhere& where) const { return match_closure(network, *index, {where, ""}); }
};

/// A road across the 180th meridian (0), one that goes on from it (1), and one on the far side of the earth (2).
HandNetwork on_both_sides_of_the_earth() {
    HandNetwork map;
    const auto a = map.junction(-35.0, 179.99);
    const auto b = map.junction(-35.0, -179.99);
    map.road(a, b);
    map.road(b, map.junction(-35.0, -179.9));
    map.road(map.junction(-35.0, -0.01), map.junction(-35.0, 0.01));
    return map;
}

} // namespace

TEST_CASE("letter case is folded for Latin, Greek and Cyrillic, accents for Latin only") {
    CHECK(fold_case("RIDGE  Road\t") == "ridge road");
    CHECK(fold_case("ÀÉÎÕÜÇØÞ ŁÓDŹ ŸŽ ȘȚ") == "àéîõüçøþ łódź ÿž șț");
    CHECK(fold_case("ΑΘΉΝΑ МОСКВА Ё") == "αθήνα москва ё");
    CHECK(fold_case("× ß ÷") == "× ß ÷");
    CHECK(without_accents("Große Straße, Łódź, Öre’s Æsir") == "grosse strasse, lodz, ore's aesir");
    CHECK(without_accents("e\xCC\x81t\xC3\xA9") == "ete"); // a combining acute, and an acute of its own
    CHECK(without_accents("Αθήνα") == "αθήνα");
    CHECK(without_accents("Ĳ Œ Ð ŉ ſ") == "ij oe d n s");
    CHECK(fold_case("\xFF\xC3 x\xE2\x82") == "\xFF\xC3 x\xE2\x82"); // broken UTF-8 is passed on
    CHECK(fold_case("東京通り") == "東京通り");
    CHECK(fold_case("  ").empty());
}

TEST_CASE("a mapped name answers to its name, its ref and the items of lists, not to a beginning") {
    CHECK(name_parts("Harbour Road (B 12;E 4)") ==
          Texts{"Harbour Road (B 12;E 4)", "Harbour Road", "B 12;E 4", "B 12", "E 4"});
    CHECK(name_parts("Mill Lane; Old Mill") == Texts{"Mill Lane; Old Mill", "Mill Lane", "Old Mill"});
    CHECK(name_parts("(B 12)") == Texts{"(B 12)"});
    CHECK(name_parts("").empty());
    CHECK(RoadName("harbour road").matches("Harbour Road (B 12)") == NameMatch::exact);
    CHECK(RoadName("b 12").matches("Harbour Road (B 12)") == NameMatch::exact);
    CHECK(RoadName("Harbour").matches("Harbour Road (B 12)") == NameMatch::no);
    CHECK(RoadName("Julia").matches("Julià") == NameMatch::without_accents);
    CHECK(RoadName("cg2").matches("Main Road (CG-2)") == NameMatch::without_marks);
    CHECK(RoadName("CG 2").matches("CG-2") == NameMatch::without_marks);
    CHECK(RoadName("CG-2").matches("CG-2") == NameMatch::exact);
    CHECK(RoadName("CG2").matches("CG-22") == NameMatch::no);
    CHECK(RoadName("-").matches(" ") == NameMatch::no);
    CHECK(RoadName("JULIÀ").matches("Julià") == NameMatch::exact);
    CHECK(RoadName("").matches("") == NameMatch::no);
    CHECK(RoadName(" ").matches("Julià") == NameMatch::no);
}

TEST_CASE("a name without a place shuts every road of that name") {
    const Village village;
    const auto match = village.match(RoadNamed{"ridge road", {}});
    CHECK(numbers(match) == Edges{0, 1, 3, 4});
    CHECK(match.problem.empty());
    CHECK(match.candidates.empty());
    // 0.01 degrees of longitude at 35 degrees: 912.9 m on WGS 84, by the prime vertical radius of curvature.
    CHECK(match.description == "Ridge Road (B 12), RIDGE ROAD, 3.7 km in 4 pieces");
    CHECK(numbers(village.match(RoadNamed{"B 12", {}})) == Edges{0, 1, 3, 5});
    CHECK(numbers(village.match(RoadNamed{"e 4", {}})) == Edges{5});
    CHECK(numbers(village.match(RoadNamed{"Old Mill", {}})) == Edges{2});
}

TEST_CASE("a name with a place shuts the connected stretch nearest to it") {
    const Village village;
    CHECK(numbers(village.match(RoadNamed{"Ridge Road", at(-35.001, -19.999)})) == Edges{0, 1});
    CHECK(numbers(village.match(RoadNamed{"Ridge Road", at(-35.001, -19.951)})) == Edges{3, 4});
    const auto match = village.match(RoadNamed{"Ridge Road (B 12)", at(-35.001, -19.951)});
    CHECK(numbers(match) == Edges{3});
    CHECK(match.description == "Ridge Road (B 12), 913 m in 1 piece");
}

TEST_CASE("a stretch runs on across gaps of 50 m but not of 60 m") {
    for (const double gap : {0.0005, 0.00066}) { // 45.6 m, 60.3 m at 35 degrees south
        HandNetwork map;
        const auto b = map.junction(-35.0, -19.99);
        const auto c = map.junction(-35.0, -19.99 + gap);
        map.road(map.junction(-35.0, -20.0), b, {.name = "Ridge Road"});
        map.road(b, c);
        map.road(c, map.junction(-35.0, -19.98), {.name = "Ridge Road"});
        const auto network = map.network();
        const SnapIndex index(network);
        const auto match = match_closure(network, index, {RoadNamed{"Ridge Road", at(-35.0, -19.995)}, ""});
        CHECK(numbers(match) == (gap < 0.0006 ? Edges{0, 2} : Edges{0}));
    }
}

TEST_CASE("accents are ignored only where no road is written with them as asked") {
    HandNetwork map;
    const auto a = map.junction(-35.0, -20.0);
    const auto b = map.junction(-35.0, -19.99);
    map.road(a, b, {.name = "Muhle"});
    map.road(b, map.junction(-35.0, -19.98), {.name = "Mühle"});
    const auto network = map.network();
    const SnapIndex index(network);
    CHECK(numbers(match_closure(network, index, {RoadNamed{"muhle", {}}, ""})) == Edges{0});
    CHECK(numbers(match_closure(network, index, {RoadNamed{"MÜHLE", {}}, ""})) == Edges{1});
    CHECK(numbers(match_closure(network, index, {RoadNamed{"mühlé", {}}, ""})) == Edges{0, 1});
    const Village village;
    CHECK(numbers(village.match(RoadNamed{"carrer de sant julia", {}})) == Edges{5});
}

TEST_CASE("an unknown name is a problem with near spellings first, then near roads") {
    const Village village;
    const auto nowhere = village.match(RoadNamed{"Rige Road", {}});
    CHECK(nowhere.edges.empty());
    CHECK(nowhere.problem == "no road is named \"Rige Road\"");
    CHECK(nowhere.description.empty());
    CHECK(nowhere.candidates == Texts{"RIDGE ROAD", "Ridge Road (B 12)"});
    const auto placed = village.match(RoadNamed{"Mil Lane", at(-34.99, -19.98)});
    // 0.01 degrees of latitude at 35 degrees south: 1109.4 m on WGS 84.
    CHECK(placed.candidates == Texts{"Mill Lane;Old Mill, 1.1 km away", "Carrer de Sant Julià (B 12;E 4), 0 m away",
                                     "Ridge Road (B 12), 1.1 km away", "RIDGE ROAD, 2.1 km away"});
    CHECK(village.match(RoadNamed{"", {}}).problem == "no road is named \"\"");
    CHECK(village.match(RoadNamed{"Quite Another Street", {}}).candidates.empty());
}

TEST_CASE("a name more than 2 km from the place is a problem that says how far it is") {
    const Village village;
    CHECK(village.match(RoadNamed{"Old Mill", at(-35.017, -19.975)}).problem.empty());
    const auto match = village.match(RoadNamed{"Old Mill", at(-35.02, -19.975)});
    CHECK(match.edges.empty());
    CHECK(match.problem == "no road named \"Old Mill\" lies within 2.0 km of -35.02000, -19.97500");
    REQUIRE(!match.candidates.empty());
    CHECK(match.candidates.front() == "Mill Lane;Old Mill, 2.2 km away");
}

TEST_CASE("way ids shut all edges of the ways; an unknown one is named beside those found") {
    const Village village;
    const auto match = village.match(Ways{{101, 103}});
    CHECK(numbers(match) == Edges{0, 1, 3});
    CHECK(match.description == "2 ways (Ridge Road (B 12)), 2.7 km in 3 pieces");
    CHECK(match.problem.empty());
    CHECK(village.match(Ways{{106}}).description == "way 106, 913 m in 1 piece");

    const auto partly = village.match(Ways{{101, 1033}});
    CHECK(numbers(partly) == Edges{0, 1});
    CHECK(partly.problem == "nothing open to it is way 1033");
    CHECK(partly.description == "way 101 (Ridge Road (B 12)), 1.8 km in 2 pieces");
    REQUIRE(partly.candidates.size() == 5);
    CHECK(partly.candidates.front() == "way 103 (Ridge Road (B 12))");

    const auto none = village.match(Ways{{107, 9000000}});
    CHECK(none.edges.empty());
    CHECK(none.problem == "nothing open to it is way 107, way 9000000");
    CHECK(none.description.empty());
    CHECK(village.match(Ways{}).problem == "no way id is given");
}

TEST_CASE("a line shuts every road it crosses and those within 10 m of it") {
    const Village village;
    // Across edge 0, its ends 1 km off the road.
    const auto across = village.match(Line{{at(-35.01, -19.996), at(-34.99, -19.994)}});
    CHECK(numbers(across) == Edges{0});
    CHECK(across.problem.empty());
    CHECK(across.description == "line of 2 points (Ridge Road (B 12)), 913 m in 1 piece");
    // Beside the road, 9.98 m and 10.09 m off: a degree of latitude there has 110,941 m.
    CHECK(numbers(village.match(Line{{at(-35.00009, -19.989), at(-35.00009, -19.981)}})) == Edges{1});
    CHECK(village.match(Line{{at(-35.000091, -19.989), at(-35.000091, -19.981)}}).edges.empty());
    // Ends 5 m short of the road; then 20 m short.
    CHECK(numbers(village.match(Line{{at(-35.01, -19.975), at(-35.000045, -19.975)}})) == Edges{2});
    CHECK(village.match(Line{{at(-35.01, -19.975), at(-35.00018, -19.975)}}).edges.empty());
    // Round a corner, both ways; a junction shuts all that meet there.
    const std::vector<geo::Coordinate> corner{at(-35.001, -19.985), at(-34.999, -19.985), at(-34.999, -19.975),
                                              at(-35.001, -19.975)};
    CHECK(numbers(village.match(Line{corner})) == Edges{1, 2, 5});
    CHECK(numbers(village.match(Line{{corner.rbegin(), corner.rend()}})) == Edges{1, 2, 5});
    CHECK(numbers(village.match(Line{{at(-35.00001, -19.98001), at(-35.0, -19.98)}})) == Edges{1, 2, 5});
    // Not the road that is closed to the van anyway (7).
    CHECK(village.match(Line{{at(-34.985, -19.981), at(-34.985, -19.979)}}).edges.empty());
}

TEST_CASE("a line off the roads names the ways nearest to any part of it, one without length says so") {
    const Village village;
    // 1.1 km south of the road, its far end much farther.
    const auto match = village.match(Line{{at(-35.01, -19.975), at(-35.2, -19.975)}});
    CHECK(match.edges.empty());
    CHECK(match.description.empty());
    CHECK(match.problem == "no road crosses the line or comes within 10 m of it");
    REQUIRE(!match.candidates.empty());
    CHECK(match.candidates[0] == "Mill Lane;Old Mill (way 102), 1.1 km away");
    CHECK(village.match(Line{{at(-35.3, -19.9), at(-35.4, -19.9)}}).candidates.empty()); // beyond 20 km
    for (const auto& points : {std::vector<geo::Coordinate>{}, std::vector{at(-35.0, -20.0)},
                               std::vector{at(-35.0, -20.0), at(-35.0, -20.0)}}) {
        const auto none = village.match(Line{points});
        CHECK(none.edges.empty());
        CHECK(none.problem == "a line needs two different points or more");
    }
}

TEST_CASE("a line across the 180th meridian or by the pole shuts the roads there alone") {
    HandNetwork map = on_both_sides_of_the_earth();
    map.road(map.junction(89.999, -90.0), map.junction(89.9995, -90.0)); // 112 m to 56 m from the pole
    const auto network = map.network();
    const SnapIndex index(network);
    const auto shut = [&](std::vector<geo::Coordinate> points) {
        return numbers(match_closure(network, index, {Line{std::move(points)}, ""}));
    };
    CHECK(shut({at(-35.01, 179.999), at(-34.99, -179.998)}) == Edges{0});
    CHECK(shut({at(-35.01, -179.998), at(-34.99, 179.999)}) == Edges{0});
    CHECK(shut({at(-35.01, 180.0), at(-34.99, 180.0)}) == Edges{0});
    CHECK(shut({at(-35.01, -180.0), at(-34.99, -180.0)}) == Edges{0});
    CHECK(shut({at(-35.00005, 179.95), at(-35.00005, -179.95)}) == Edges{0, 1});
    CHECK(shut({at(-35.01, 0.001), at(-34.99, -0.001)}) == Edges{2});
    CHECK(shut({at(89.9992, -100.0), at(89.9992, -80.0)}) == Edges{3});
    CHECK(shut({at(89.9992, 80.0), at(89.9992, 100.0)}).empty());
}

TEST_CASE("how near a road comes to a line is what looking at every metre of both gives") {
    std::mt19937 random(20260);
    const auto draw = [&](double from, double to) { return std::uniform_real_distribution(from, to)(random); };
    for (int round = 0; round < 24; ++round) {
        const double south = round % 3 == 0 ? 59.0 : round % 3 == 1 ? -0.005 : -35.0;
        const auto place = [&] {
            const double longitude = 179.99 + draw(0.0, 0.02);
            return at(south + draw(0.0, 0.01), longitude > 180.0 ? longitude - 360.0 : longitude);
        };
        const std::vector<geo::Coordinate> line{place(), place(), place()}, road{place(), place()};
        double least = 1e9;
        std::vector<SpacePoint> dots;
        for (int n = 0; n <= 1500; ++n) // up to 2.5 km
            dots.push_back(in_space(point_between(road[0], road[1], n / 1500.0)));
        for (std::size_t part = 1; part < line.size(); ++part)
            for (int n = 0; n <= 1500; ++n) {
                const SpacePoint dot = in_space(point_between(line[part - 1], line[part], n / 1500.0));
                for (const SpacePoint& other : dots)
                    least = std::min(least, distance(dot, other).value);
            }
        const DrawnLine drawn(line);
        const double said = drawn.distance_from(road).value;
        CAPTURE(round);
        CHECK(said <= least + 0.02);
        CHECK(said >= least - 1.7 - 0.02); // half a step of each: 2.5 km / 1500, twice halved
        CHECK(drawn.comes_within(road, {said + 1e-6}));
        CHECK((said < 1e-3 || !drawn.comes_within(road, {said - 1e-3})));
    }
}

TEST_CASE("an area shuts what lies inside, crosses it or touches it, whichever way it is drawn") {
    const Village village;
    const std::vector<geo::Coordinate> box{at(-35.002, -19.985), at(-34.998, -19.985), at(-34.998, -19.965),
                                           at(-35.002, -19.965)};
    const auto reversed = std::vector(box.rbegin(), box.rend());
    auto closed_ring = box;
    closed_ring.push_back(box.front());
    for (const auto& ring : {box, reversed, closed_ring}) {
        const auto match = village.match(Area{ring});
        CHECK(numbers(match) == Edges{1, 2, 3, 5}); // 2 inside; 1, 3 and 5 cross
        CHECK(match.problem.empty());
    }
    CHECK(village.match(Area{box}).description == "area of 4 points (Ridge Road (B 12), Carrer de Sant Julià (B 12;E "
                                                  "4), Mill Lane;Old Mill), 3.8 km in 4 pieces");
    // A sliver across the road, with no junction inside.
    CHECK(numbers(village.match(Area{{at(-35.1, -19.9951), at(-34.9, -19.9951), at(-34.9, -19.9950)}})) == Edges{0});
    // A corner that just touches.
    CHECK(numbers(village.match(Area{{at(-35.0, -19.995), at(-35.01, -19.996), at(-35.01, -19.994)}})) == Edges{0});
    // All the village inside one big area, and none of it in the hole of a horseshoe.
    CHECK(village.match(Area{{at(-36, -21), at(-34, -21), at(-34, -19), at(-36, -19)}}).edges.size() == 7);
    CHECK(numbers(village.match(Area{{at(-35.005, -19.99), at(-35.005, -19.94), at(-34.995, -19.94),
                                      at(-34.995, -19.945), at(-35.004, -19.945), at(-35.004, -19.99)}}))
              .empty());
    // A bow tie holds both of its wings.
    CHECK(numbers(village.match(Area{{at(-35.001, -19.999), at(-34.999, -19.999), at(-35.001, -19.955),
                                      at(-34.999, -19.955)}})) == Edges{0, 1, 2, 3, 4, 5});
}

TEST_CASE("an area with fewer than three different points matches nothing and says why") {
    const Village village;
    for (const auto& ring : {std::vector<geo::Coordinate>{}, std::vector{at(-35.0, -20.0)},
                             std::vector{at(-35.0, -20.0), at(-35.0, -19.9), at(-35.0, -20.0)}}) {
        const auto match = village.match(Area{ring});
        CHECK(match.edges.empty());
        CHECK(match.problem == "an area needs three different points or more");
    }
}

TEST_CASE("an area off the roads is a problem that names the nearest ways") {
    const Village village;
    const auto match = village.match(Area{{at(-35.011, -19.976), at(-35.011, -19.974), at(-35.009, -19.975)}});
    CHECK(match.problem == "no road touches the area");
    REQUIRE(match.candidates.size() == 5);
    CHECK(match.candidates[0] == "Mill Lane;Old Mill (way 102), 1.1 km away");
}

TEST_CASE("an area across the 180th meridian shuts the roads there and none on the far side of the earth") {
    HandNetwork map = on_both_sides_of_the_earth();
    const auto network = map.network();
    const SnapIndex index(network);
    const Area area{{at(-35.01, 179.995), at(-34.99, 179.995), at(-34.99, -179.995), at(-35.01, -179.995)}};
    CHECK(numbers(match_closure(network, index, {area, ""})) == Edges{0});
    const Area opposite{{at(-35.01, -0.005), at(-34.99, -0.005), at(-34.99, 0.005), at(-35.01, 0.005)}};
    CHECK(numbers(match_closure(network, index, {opposite, ""})) == Edges{2});
}

TEST_CASE("a circle shuts every road that comes within its radius") {
    const Village village;
    // 0.001 degrees of latitude south of edge 2: 110.9 m.
    const auto match = village.match(Circle{at(-35.001, -19.975), 111.0_m});
    CHECK(numbers(match) == Edges{2});
    CHECK(match.description == "within 111 m of -35.00100, -19.97500 (Mill Lane;Old Mill), 913 m in 1 piece");
    CHECK(numbers(village.match(Circle{at(-35.001, -19.975), 1000.0_m})) == Edges{1, 2, 3, 5});
    const auto none = village.match(Circle{at(-35.001, -19.975), 110.0_m});
    CHECK(none.edges.empty());
    CHECK(none.problem == "no road comes within 110 m of -35.00100, -19.97500");
    REQUIRE(!none.candidates.empty());
    CHECK(none.candidates[0] == "Mill Lane;Old Mill (way 102), 111 m away");
}

TEST_CASE("closing adds to what is shut") {
    const Village village;
    ClosedEdges shut;
    close(shut, village.network, village.match(Ways{{102}}));
    close(shut, village.network, village.match(Ways{{104}}));
    CHECK(shut == ClosedEdges{false, false, true, false, true, false, false, false});
}
