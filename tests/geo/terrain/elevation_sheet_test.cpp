#include "geo/terrain/elevation_sheet.hpp"

#include "tests/geo/terrain/tile_fixtures.hpp"
#include "tests/support/near.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <random>

using namespace geo::literals;
using geo::Coordinate;
using geo::Degrees;
using geo::Metres;
using geo::terrain::ElevationSheet;
using geo::terrain::ElevationTile;
using geo::terrain::GridFrame;
using support::near;
using support::TileFolder;

namespace {

using Ground = std::function<double(double latitude, double longitude)>;

/// Posts on the degree lines with `per_degree` cells, as SRTM has them; or beginning half a step inside, as pixels that
/// are areas do.
ElevationTile tile_of(double south, double west, std::size_t per_degree, const Ground& ground,
                      bool shares_edges = true) {
    const double step = 1.0 / static_cast<double>(per_degree);
    const std::size_t posts = per_degree + (shares_edges ? 1 : 0);
    const double inset = shares_edges ? 0.0 : step / 2.0;
    const GridFrame frame{{west + inset}, {south + 1.0 - inset}, {step}, {step}, posts, posts};
    std::vector<float> heights;
    for (std::size_t row = 0; row < posts; ++row)
        for (std::size_t column = 0; column < posts; ++column)
            heights.push_back(static_cast<float>(ground(south + 1.0 - inset - static_cast<double>(row) * step,
                                                        west + inset + static_cast<double>(column) * step)));
    return {"tile " + std::to_string(south) + " " + std::to_string(west), frame, std::move(heights)};
}

template <class... Tiles>
ElevationSheet sheet_of(Tiles... tiles) {
    std::vector<ElevationTile> list;
    (list.push_back(std::move(tiles)), ...);
    return ElevationSheet(std::move(list));
}

/// A plane in latitude and longitude, which bilinear ground follows exactly.
double plane(double latitude, double longitude) {
    return 2000.0 + 50.0 * latitude + 30.0 * longitude;
}

bool stands_at(const ElevationSheet& sheet, Coordinate place, double height, double tolerance = 0.001) {
    const auto found = sheet.height(place);
    return found && near(*found, {height}, {tolerance});
}

} // namespace

TEST_CASE("ground between posts is bilinear, on posts what the file says") {
    const auto hills = [](double latitude, double longitude) {
        return 1000.0 + 300.0 * std::sin(40.0 * latitude) * std::cos(50.0 * longitude);
    };
    const auto sheet = sheet_of(tile_of(47, 9, 100, hills));
    CHECK(stands_at(sheet, {47.5_deg, 9.25_deg}, hills(47.5, 9.25)));
    const double north_west = hills(47.51, 9.25);
    const double north_east = hills(47.51, 9.26);
    const double south_west = hills(47.50, 9.25);
    const double south_east = hills(47.50, 9.26);
    CHECK(stands_at(sheet, {47.505_deg, 9.255_deg}, (north_west + north_east + south_west + south_east) / 4.0));
    CHECK(stands_at(sheet, {47.5075_deg, 9.25_deg}, 0.75 * north_west + 0.25 * south_west));
}

TEST_CASE("corners and edges of a tile belong to it, what lies a step outside does not") {
    const auto sheet = sheet_of(tile_of(47, 9, 1200, plane));
    for (const double latitude : {47.0, 47.3, 48.0})
        for (const double longitude : {9.0, 9.7, 10.0})
            CHECK(stands_at(sheet, {{latitude}, {longitude}}, plane(latitude, longitude)));
    CHECK_FALSE(sheet.height({47.5_deg, 10.001_deg}));
    CHECK_FALSE(sheet.height({46.999_deg, 9.5_deg}));
    CHECK_FALSE(sheet.height({47.5_deg, 189.5_deg - 360_deg}));
    CHECK_FALSE(sheet.height({-47.5_deg, 9.5_deg}));
}

TEST_CASE("a plane goes on without a step across every edge and corner of tiles") {
    for (const bool shares_edges : {true, false})
        for (const Coordinate corner :
             {Coordinate{47_deg, 9_deg}, {-9_deg, -36_deg}, {-1_deg, -1_deg}, {0_deg, 0_deg}}) {
            const double south = corner.latitude.value;
            const double west = corner.longitude.value;
            CAPTURE(shares_edges);
            CAPTURE(south);
            CAPTURE(west);
            const auto sheet = sheet_of(tile_of(south, west, 60, plane, shares_edges),
                                        tile_of(south, west + 1, 60, plane, shares_edges),
                                        tile_of(south + 1, west, 60, plane, shares_edges),
                                        tile_of(south + 1, west + 1, 60, plane, shares_edges));
            for (int down = 0; down < 55; ++down)
                for (int along = 0; along < 55; ++along) {
                    const double latitude = south + 0.9 + 0.0037 * down;
                    const double longitude = west + 0.9 + 0.0037 * along;
                    CHECK(stands_at(sheet, {{latitude}, {longitude}}, plane(latitude, longitude), 0.01));
                }
        }
}

TEST_CASE("the 180th meridian is no border") {
    const auto ground = [](double, double longitude) {
        return 100.0 + 10.0 * (longitude > 0 ? longitude : longitude + 360.0);
    };
    for (const bool shares_edges : {true, false}) {
        CAPTURE(shares_edges);
        const auto sheet =
            sheet_of(tile_of(-17, 179, 120, ground, shares_edges), tile_of(-17, -180, 120, ground, shares_edges));
        for (const double longitude : {179.5, 179.99, 179.999, 180.0, -180.0, -179.999, -179.99, -179.5})
            CHECK(stands_at(sheet, {-16.5_deg, {longitude}}, ground(0, longitude), 0.01));
        CHECK_FALSE(sheet.height({-16.5_deg, 178.5_deg}));
        CHECK_FALSE(sheet.height({-16.5_deg, -178.5_deg}));
    }
}

TEST_CASE("a grid that runs round the Earth closes on itself") {
    const GridFrame frame{{-179.5}, {89.5}, {1.0}, {1.0}, 360, 180};
    std::vector<float> heights;
    for (std::size_t row = 0; row < 180; ++row)
        for (std::size_t column = 0; column < 360; ++column)
            heights.push_back(column == 0 ? 300.0F : column == 359 ? 100.0F : 0.0F);
    const auto sheet = sheet_of(ElevationTile("world", frame, std::move(heights)));
    CHECK(stands_at(sheet, {10.5_deg, -179.5_deg}, 300.0));
    CHECK(stands_at(sheet, {10.5_deg, 180_deg}, 200.0));
    CHECK(stands_at(sheet, {10.5_deg, -180_deg}, 200.0));
    CHECK(stands_at(sheet, {10.5_deg, 179.75_deg}, 150.0));
    CHECK(stands_at(sheet, {10.5_deg, -179.75_deg}, 250.0));
}

TEST_CASE("where tiles overlap the finest counts, among equals the one named first") {
    const auto low = [](double, double) { return 100.0; };
    const auto high = [](double, double) { return 200.0; };
    CHECK(stands_at(sheet_of(tile_of(47, 9, 60, low), tile_of(47, 9, 120, high)), {47.5_deg, 9.5_deg}, 200.0));
    CHECK(stands_at(sheet_of(tile_of(47, 9, 120, high), tile_of(47, 9, 60, low)), {47.5_deg, 9.5_deg}, 200.0));
    CHECK(stands_at(sheet_of(tile_of(47, 9, 60, low), tile_of(47, 9, 60, high)), {47.5_deg, 9.5_deg}, 100.0));
    const auto sheet = sheet_of(tile_of(47, 9, 60, low), tile_of(47, 9, 120, high));
    CHECK(sheet.tiles().front().post_spacing == Degrees{1.0 / 120.0});
}

TEST_CASE("fine and coarse tiles side by side leave no gap between them") {
    for (const bool shares_edges : {true, false}) {
        CAPTURE(shares_edges);
        const auto sheet = sheet_of(tile_of(47, 9, 120, plane, shares_edges), tile_of(46, 9, 40, plane, shares_edges),
                                    tile_of(47, 10, 40, plane, shares_edges));
        for (int part = -43; part <= 43; ++part) {
            const double step = 0.0007 * part;
            // Pixels that are areas end half a pixel beyond their posts: there the nearest posts count.
            const double tolerance = shares_edges ? 0.01 : 2.0;
            CHECK(stands_at(sheet, {{47.0 + step}, 9.5_deg}, plane(47.0 + step, 9.5), tolerance));
            CHECK(stands_at(sheet, {47.5_deg, {10.0 + step}}, plane(47.5, 10.0 + step), tolerance));
        }
    }
}

TEST_CASE("the half pixel around a tile of areas takes the height of the nearest posts") {
    const auto sheet = sheet_of(tile_of(47, 9, 60, plane, false));
    const double half = 1.0 / 120.0;
    CHECK(stands_at(sheet, {47.5_deg, 9.0_deg}, plane(47.5, 9.0 + half), 0.01));
    CHECK(stands_at(sheet, {48.0_deg, 10.0_deg}, plane(48.0 - half, 10.0 - half), 0.01));
    CHECK_FALSE(sheet.height({47.5_deg, 8.999_deg}));
}

TEST_CASE("a void takes its height from another tile before its rim is looked at") {
    const auto with_hole = [](double latitude, double longitude) {
        return std::abs(latitude - 47.5) < 0.03 && std::abs(longitude - 9.5) < 0.03 ? std::nan("") : 1000.0;
    };
    const auto sheet = sheet_of(tile_of(47, 9, 120, with_hole), tile_of(47, 9, 40, plane));
    CHECK(stands_at(sheet, {47.5_deg, 9.5_deg}, plane(47.5, 9.5), 0.01));
    CHECK(stands_at(sheet, {47.51_deg, 9.49_deg}, plane(47.51, 9.49), 0.01));
    CHECK(stands_at(sheet, {47.6_deg, 9.5_deg}, 1000.0));
    const auto& report = sheet.tiles().front();
    CHECK(report.voids == 49);
    CHECK(report.filled_from_tiles == 49);
    CHECK(report.filled_from_rim == 0);
    CHECK(report.unknown == 0);
    CHECK(sheet.tiles().back().voids == 0);
}

TEST_CASE("a void on a shared edge is known to the neighbour") {
    const auto without_edge = [](double latitude, double longitude) {
        return std::abs(longitude - 10.0) < 1e-9 ? std::nan("") : plane(latitude, longitude);
    };
    const auto sheet = sheet_of(tile_of(47, 9, 60, without_edge), tile_of(47, 10, 60, plane));
    CHECK(stands_at(sheet, {47.33_deg, 9.995_deg}, plane(47.33, 9.995), 0.01));
    CHECK(sheet.tiles().front().filled_from_tiles == 61);
}

TEST_CASE("a small hole on a slope is filled as if the slope went on") {
    const TileFolder folder;
    const auto slope = [](std::size_t row, std::size_t column) {
        return 300.0 + 2.0 * static_cast<double>(row) - 1.0 * static_cast<double>(column);
    };
    support::write_hgt(folder / "N47E009.hgt", 3601, [&](std::size_t row, std::size_t column) {
        const bool hole = row >= 100 && row < 110 && column >= 200 && column < 206 && (row + column) % 9 != 0;
        return hole ? -32768.0 : slope(row % 1000, column % 1000);
    });
    const auto sheet = geo::terrain::read_elevation_sheet({folder / "N47E009.hgt"});
    const GridFrame frame{9_deg, 48_deg, {1.0 / 3600.0}, {1.0 / 3600.0}, 3601, 3601};
    for (std::size_t row = 99; row < 111; ++row)
        for (std::size_t column = 199; column < 207; ++column)
            CHECK(stands_at(sheet, frame.place(static_cast<double>(row), static_cast<double>(column)),
                            slope(row, column), 0.05));
    const auto& report = sheet.tiles().front();
    CHECK(report.voids == 54);
    CHECK(report.filled_from_rim == 54);
    CHECK(report.unknown == 0);
}

TEST_CASE("a filled hole stays within the heights of its rim") {
    std::mt19937 random(4);
    std::uniform_real_distribution<double> any(100.0, 900.0);
    const auto sheet = sheet_of(tile_of(47, 9, 1200, [&](double latitude, double longitude) {
        const bool hole = std::abs(latitude - 47.5) < 0.0015 && std::abs(longitude - 9.5) < 0.0015;
        return hole ? std::nan("") : any(random);
    }));
    CHECK(sheet.tiles().front().filled_from_rim == 9);
    for (int north = -15; north <= 15; ++north)
        for (int east = -15; east <= 15; ++east) {
            const auto height = sheet.height({{47.5 + 0.0001 * north}, {9.5 + 0.0001 * east}});
            REQUIRE(height);
            CHECK(*height >= 100_m);
            CHECK(*height <= 900_m);
        }
}

TEST_CASE("a large hole and one at the tile's edge stay unknown and are counted") {
    const auto ground = [](double latitude, double longitude) {
        const bool large = std::abs(latitude - 47.5) < 0.0095 && std::abs(longitude - 9.5) < 0.0095;
        const bool at_edge = std::abs(latitude - 48.0) < 0.0005 && std::abs(longitude - 9.5) < 0.0005;
        return large || at_edge ? std::nan("") : 500.0;
    };
    const auto sheet = sheet_of(tile_of(47, 9, 1200, ground));
    CHECK_FALSE(sheet.height({47.5_deg, 9.5_deg}));
    CHECK_FALSE(sheet.height({48_deg, 9.5_deg}));
    CHECK(stands_at(sheet, {47.52_deg, 9.5_deg}, 500.0));
    const auto& report = sheet.tiles().front();
    CHECK(report.voids == 23 * 23 + 1);
    CHECK(report.filled_from_rim == 0);
    CHECK(report.unknown == report.voids);
}

TEST_CASE("a post that is known counts though all around it is not") {
    const auto lone = [](double latitude, double longitude) {
        return std::abs(latitude - 47.5) < 1e-9 && std::abs(longitude - 9.5) < 1e-9 ? 77.0 : std::nan("");
    };
    const auto sheet = sheet_of(tile_of(47, 9, 60, lone));
    CHECK(stands_at(sheet, {47.5_deg, 9.5_deg}, 77.0));
    CHECK_FALSE(sheet.height({47.501_deg, 9.5_deg}));
    CHECK(sheet.highest() == Metres{77.0});
    CHECK_FALSE(sheet_of(tile_of(47, 9, 60, [](double, double) { return std::nan(""); })).highest());
}

TEST_CASE("the sheet says how far it reaches") {
    const auto sheet = sheet_of(tile_of(-17, 179, 60, plane));
    const auto& box = sheet.tiles().front().box;
    CHECK(near(box.west, 179_deg, 1e-9_deg));
    CHECK(near(box.east, 180_deg, 1e-9_deg));
    CHECK(near(box.south, -17_deg, 1e-9_deg));
    CHECK(near(box.north, -16_deg, 1e-9_deg));
    CHECK(sheet.tiles().front().posts == 61 * 61);
}

TEST_CASE("every faulty file of a list is named at once, and an empty list is a fault") {
    const TileFolder folder;
    support::write_bytes(folder / "N47E009.hgt", "short");
    support::write_hgt(folder / "N47E010.hgt", 1201, [](std::size_t, std::size_t) { return 1.0; });
    const std::string fault = support::fault_of([&] {
        (void)geo::terrain::read_elevation_sheet(
            {folder / "N47E009.hgt", folder / "N47E010.hgt", folder / "missing.tif"});
    });
    CHECK(fault.find("N47E009.hgt: \"5 bytes\" is not the size") != std::string::npos);
    CHECK(fault.find("missing.tif: is not there") != std::string::npos);
    CHECK(support::fault_of([] { (void)geo::terrain::read_elevation_sheet({}); }) ==
          "terrain: names no elevation tile; name one file at least");
}
