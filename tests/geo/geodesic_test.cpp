#include "geo/geodesic.hpp"

#include "tests/geo/csv.hpp"
#include "tests/support/near.hpp"
#include "tests/support/shared_data.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <limits>
#include <random>
#include <vector>

using geo::Coordinate;
using geo::Degrees;
using geo::Metres;
using namespace geo::literals;
using support::near;

namespace {

/// A line of the published test set; it starts at longitude 0.
struct PublishedLine {
    double from_latitude, from_bearing, to_latitude, to_longitude, to_bearing, length, reduced_length;
};

// C. F. F. Karney, Test set for geodesics, doi 10.5281/zenodo.32156: lines of GeodTest.dat (fields lat1, azi1, lat2,
// lon2, azi2, s12, m12). The first five are everyday ones; then a short one, meridians past the pole, nearly antipodal
// points and points exactly conjugate.
const std::vector<PublishedLine> published_lines{
    {.003311913742, 90.001862369144, .001762385472585824, 32.846794581272844, 90.003358355630087731, 3656488.4472191,
     3458160.8183571795545},
    {35.602540598169, 111.870427868602, -19.406200172031696834, 78.995799629955596127, 126.810557548058637274,
     10299779.6328425, 6352380.0559844604728},
    {.002776960941, 90.004934285837, -.002670966075003864, 57.164518655793700538, 90.00499207004449665, 6363525.1342937,
     5352678.9635730864489},
    {53.483892345764, 142.52471991661, -18.960904210068101428, 39.172919840228105238, 157.449049974579802578,
     8861654.1189795, 6262656.4247476698712},
    {2.514600234503, 166.362139719401, 2.506446532968658234, .00196695535966103, 166.362225877709852834, 927.7647972,
     927.7647939063255},
    {89.991989548145, 90.383140967854, -61.038150741515986969, 89.631261715462284382, 179.983444547483440057,
     16771704.5214092, 3096416.4514950950967},
    {89.992862960035, 26.020973811583, 67.650349673107735103, 153.971406836372110945, 179.991762047058247147,
     2495797.0749906, 2432972.8748596488837},
    {20.423135394589, 169.895260694771, -21.179388017798691648, 179.757116934570412271, 10.155770628519677379,
     19917969.3423672, 141945.8619235957633},
    {11.280350636448, 100.050372107063, -11.363289459370951713, 178.940755072790726259, 80.04316255927423735,
     19919776.7294766, 54766.2959447122271},
    {72.071239718919, 89.964343072223, -72.07123971890502904, 179.813796146422114323, 90.035656997118252682,
     20000731.2068002, .0049842491677},
    {69.91995712112, 89.966532300422, -69.91995712111389255, 179.792335960763673918, 90.033467728157922983,
     19999951.0726153, .0038830639169},
    {23.225828498891, 90, -23.225828498891, 179.44518683104154539, 90, 19975528.4919571414229, 0},
    {17.162079946072, 90, -17.162079946072, 179.423239711929197618, 90, 19973237.8142662576352, 0},
};

/// Distance on the ground between two points a few millimetres apart, good enough to compare with nanometres.
Metres gap(Coordinate a, Coordinate b) {
    constexpr double metres_per_degree = 111'320.0;
    const double east = geo::longitude_difference(a.longitude, b.longitude).value *
                        std::cos(a.latitude.value * 3.14159265358979 / 180.0);
    return {metres_per_degree * std::hypot(a.latitude.value - b.latitude.value, east)};
}

/// The tolerances stated in the header.
void check_line(const PublishedLine& line) {
    const Coordinate from{{line.from_latitude}, {0.0}};
    const Coordinate to{{line.to_latitude}, {line.to_longitude}};
    CAPTURE(line.from_latitude);
    CAPTURE(line.length);
    const auto found = geo::geodesic_between(from, to);
    CHECK(near(found.length, Metres{line.length}, 1e-8_m));
    CHECK(near(geo::distance(to, from), Metres{line.length}, 1e-8_m));
    CHECK(gap(geo::destination(from, Degrees{line.from_bearing}, Metres{line.length}), to) < 1e-8_m);
    // A bearing is as well known as the end point's digits allow: an end moved by e turns it by e / reduced length,
    // at conjugate points (reduced length 0) by the order of sqrt(e).
    const double turned_by_rounding =
        line.reduced_length > 0.0 ? 180.0 / 3.14159265358979 * 1.5e-9 / line.reduced_length : 2e-5;
    const double uncertainty = 1e-9 + std::min(2e-5, turned_by_rounding);
    CHECK(near(found.initial_bearing, Degrees{line.from_bearing}, Degrees{uncertainty}));
    CHECK(near(found.final_bearing, Degrees{line.to_bearing}, Degrees{uncertainty}));
    CHECK(gap(geo::destination(from, found.initial_bearing, found.length), to) < 1e-8_m);
}

} // namespace

TEST_CASE("geodesics agree with published lines, nearly antipodal ones too") {
    for (const PublishedLine& line : published_lines)
        check_line(line);
}

TEST_CASE("geodesics agree with a hundred lines of Karney's test set") {
    const auto file = support::shared_data("geodesic/GeodTest-100.dat");
    if (!file)
        return;
    std::ifstream input(*file);
    PublishedLine line{};
    double from_longitude = 0.0;
    double arc = 0.0;
    double area = 0.0;
    int lines = 0;
    while (input >> line.from_latitude >> from_longitude >> line.from_bearing >> line.to_latitude >>
           line.to_longitude >> line.to_bearing >> line.length >> arc >> line.reduced_length >> area) {
        REQUIRE(from_longitude == 0.0);
        check_line(line);
        ++lines;
    }
    CHECK(lines == 100);
}

TEST_CASE("short geodesics agree with exact elliptic integrals") {
    const auto file = support::shared_data("geodesic/short_range_300.csv");
    if (!file)
        return;
    const auto rows = support::read_csv(*file);
    CHECK(rows.size() == 300);
    for (const auto& row : rows) {
        const auto number = [&](const char* name) { return std::stod(row.at(name)); };
        const Coordinate from{{number("lat1")}, {number("lon1")}};
        const Coordinate to{{number("lat2")}, {number("lon2")}};
        const auto found = geo::geodesic_between(from, to);
        CHECK(near(found.length, Metres{number("s12")}, 1e-6_m)); // printed to the micrometre
        // Moving an end by the rounding of its coordinates, about 1e-9 m, turns a line of 3 m by 2e-8 degrees.
        const Degrees tolerance{1e-9 + 180.0 / 3.14159265358979 * 2e-9 / number("s12")};
        CHECK(near(geo::longitude_difference({number("azi1")}, found.initial_bearing), 0_deg, tolerance));
        CHECK(near(geo::longitude_difference({number("azi2")}, found.final_bearing), 0_deg, tolerance));
    }
}

TEST_CASE("bearings run from 0 up to but not including 360") {
    const Coordinate here{47_deg, 11_deg};
    CHECK(geo::initial_bearing(here, {48_deg, 11_deg}) == 0_deg);
    CHECK(near(geo::initial_bearing(here, {46_deg, 11_deg}), 180_deg, 1e-12_deg));
    CHECK(geo::initial_bearing({0_deg, 0_deg}, {0_deg, 1_deg}) == 90_deg);
    CHECK(geo::initial_bearing({0_deg, 0_deg}, {0_deg, -1_deg}) == 270_deg);
    CHECK(geo::initial_bearing(here, {47.1_deg, 10.9999999999_deg}) > 359_deg);
    std::mt19937 random(7);
    std::uniform_real_distribution<double> latitude(-90.0, 90.0);
    std::uniform_real_distribution<double> longitude(-180.0, 180.0);
    for (int i = 0; i < 2000; ++i) {
        const Coordinate a{{latitude(random)}, {longitude(random)}};
        const Coordinate b{{latitude(random)}, {longitude(random)}};
        const auto line = geo::geodesic_between(a, b);
        CHECK((line.initial_bearing >= 0_deg && line.initial_bearing < 360_deg));
        CHECK((line.final_bearing >= 0_deg && line.final_bearing < 360_deg));
        CHECK(gap(geo::destination(a, line.initial_bearing, line.length), b) < 1e-7_m);
        CHECK(near(geo::distance(b, a), line.length, 1e-8_m));
        // Seen from the far end the line comes from the opposite direction.
        const Degrees back = geo::initial_bearing(b, a);
        CHECK(near(geo::longitude_difference(back, line.final_bearing + 180_deg), 0_deg, 1e-6_deg));
    }
}

TEST_CASE("a place has no distance from itself, whichever way its longitude is written") {
    CHECK(geo::distance({12_deg, 34_deg}, {12_deg, 34_deg}) == 0_m);
    CHECK(geo::initial_bearing({12_deg, 34_deg}, {12_deg, 34_deg}) == 0_deg);
    CHECK(near(geo::distance({12_deg, 180_deg}, {12_deg, -180_deg}), 0_m, 1e-8_m));
    CHECK(near(geo::distance({90_deg, 10_deg}, {90_deg, -120_deg}), 0_m, 1e-8_m));
}

TEST_CASE("destinations keep longitudes inside -180 to 180 and cross the antimeridian") {
    const Coordinate east = geo::destination({-17_deg, 179.9_deg}, 90_deg, 50'000_m);
    CHECK(east.longitude < -179_deg);
    const Coordinate west = geo::destination({-17_deg, -179.9_deg}, 270_deg, 50'000_m);
    CHECK(west.longitude > 179_deg);
    CHECK(gap(geo::destination({-17_deg, 179.9_deg}, -270_deg, 50'000_m), east) < 1e-8_m);
    CHECK(gap(geo::destination(east, geo::geodesic_between({-17_deg, 179.9_deg}, east).final_bearing, -50'000_m),
              {-17_deg, 179.9_deg}) < 1e-7_m);
}

TEST_CASE("geodesics start from a pole on the meridian their bearing says") {
    for (const Degrees pole : {90_deg, -90_deg})
        for (const Degrees own : {0_deg, 62_deg, -174_deg, 180_deg})
            for (const Coordinate end : {Coordinate{10_deg, 30_deg}, {-47_deg, -76_deg}, {0_deg, 180_deg}}) {
                const auto line = geo::geodesic_between({pole, own}, end);
                CHECK(gap(geo::destination({pole, own}, line.initial_bearing, line.length), end) < 1e-7_m);
                CHECK(near(line.final_bearing, pole > 0_deg ? 180_deg : 0_deg, 1e-9_deg));
            }
    // GeographicLib's GeodSolve 2.1.2: from 90 N 62 E to 10 N 30 E the azimuth is -148.
    CHECK(near(geo::initial_bearing({90_deg, 62_deg}, {10_deg, 30_deg}), 212_deg, 1e-9_deg));
    // Over the other pole and up again: a meridian quadrant is 10 001 965.729 m.
    CHECK(gap(geo::destination({90_deg, 0_deg}, 180_deg, 3.0 * 10'001'965.729_m), {0_deg, 180_deg}) < 0.01_m);
}

TEST_CASE("points along a geodesic divide its length") {
    const Coordinate a{-35_deg, -10_deg};
    const Coordinate b{-34_deg, -7_deg};
    const Metres whole = geo::distance(a, b);
    for (const double part : {0.0, 0.25, 0.5, 1.0}) {
        const Coordinate point = geo::point_along(a, b, part * whole);
        CHECK(near(geo::distance(a, point), part * whole, 1e-7_m));
        CHECK(near(geo::distance(point, b), (1.0 - part) * whole, 1e-7_m));
    }
}

TEST_CASE("geodesics refuse coordinates and lengths that are none") {
    const double none = std::numeric_limits<double>::quiet_NaN();
    const double endless = std::numeric_limits<double>::infinity();
    CHECK_THROWS_AS(geo::distance({91_deg, 0_deg}, {0_deg, 0_deg}), std::domain_error);
    CHECK_THROWS_AS(geo::distance({0_deg, 0_deg}, {0_deg, 180.5_deg}), std::domain_error);
    CHECK_THROWS_AS(geo::initial_bearing({{none}, 0_deg}, {0_deg, 0_deg}), std::domain_error);
    CHECK_THROWS_AS(geo::destination({0_deg, 0_deg}, {endless}, 1_m), std::domain_error);
    CHECK_THROWS_AS(geo::destination({0_deg, 0_deg}, 0_deg, {none}), std::domain_error);
}
