#include "geo/terrain/srtm_tile.hpp"

#include "tests/geo/terrain/tile_fixtures.hpp"
#include "tests/support/shared_data.hpp"

#include <doctest/doctest.h>

#include <unistd.h>

#include <cmath>
#include <fstream>

using namespace geo::literals;
using geo::Coordinate;
using geo::terrain::corner_from_name;
using geo::terrain::ElevationTile;
using geo::terrain::read_elevation_tile;
using support::fault_of;
using support::TileFolder;
using support::write_bytes;
using support::write_hgt;

namespace {

/// A number of its own for every post.
double numbered(std::size_t row, std::size_t column) {
    return static_cast<double>((row * 7 + column * 3) % 3000) - 400.0;
}

std::string fault_in(const std::filesystem::path& file) {
    return fault_of([&] { (void)read_elevation_tile(file); });
}

std::string bytes_of(const std::filesystem::path& file) {
    std::string bytes(std::filesystem::file_size(file), '\0');
    std::ifstream(file, std::ios::binary).read(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    return bytes;
}

bool contains(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

} // namespace

TEST_CASE("an SRTM name gives the south-west corner on every side of equator and Greenwich") {
    CHECK(corner_from_name("N47E009.hgt") == Coordinate{47_deg, 9_deg});
    CHECK(corner_from_name("S09W036.hgt") == Coordinate{-9_deg, -36_deg});
    CHECK(corner_from_name("s01e179.SRTMGL1.hgt.zip") == Coordinate{-1_deg, 179_deg});
    CHECK(corner_from_name("N00W180.HGT") == Coordinate{0_deg, -180_deg});
    for (const char* name : {"", "tile.hgt", "N47E9.hgt", "N47E0091.hgt", "X47E009.hgt", "N4aE009.hgt", "N90E009.hgt",
                             "N47E180.hgt", "S91E009.hgt", "N47-009.hgt"})
        CHECK_FALSE(corner_from_name(name));
}

TEST_CASE("a three arc second tile is read post by post") {
    const TileFolder folder;
    write_hgt(folder / "S09W036.hgt", 1201, numbered);
    const ElevationTile tile = read_elevation_tile(folder / "S09W036.hgt");
    CHECK(tile.frame().rows == 1201);
    CHECK(tile.frame().columns == 1201);
    CHECK(tile.frame().place(0, 0) == Coordinate{-8_deg, -36_deg});
    CHECK(std::abs(tile.frame().south().value + 9.0) < 1e-12);
    CHECK(std::abs(tile.frame().east().value + 35.0) < 1e-12);
    int wrong = 0;
    for (std::size_t row = 0; row < 1201; ++row)
        for (std::size_t column = 0; column < 1201; ++column)
            wrong += tile.height(row, column) != static_cast<float>(numbered(row, column)) ? 1 : 0;
    CHECK(wrong == 0);
}

TEST_CASE("a one arc second tile is told by its size") {
    const TileFolder folder;
    write_hgt(folder / "N00E000.hgt", 3601, numbered);
    const ElevationTile tile = read_elevation_tile(folder / "N00E000.hgt");
    CHECK(tile.frame().rows == 3601);
    CHECK(tile.height(3600, 3600) == static_cast<float>(numbered(3600, 3600)));
}

TEST_CASE("voids and heights no land has are unknown") {
    const TileFolder folder;
    write_hgt(folder / "N47E009.hgt", 1201, [](std::size_t row, std::size_t column) {
        if (row == 5)
            return column == 0 ? -32768.0 : column == 1 ? -9999.0 : column == 2 ? 9001.0 : -430.0;
        return 8849.0;
    });
    const ElevationTile tile = read_elevation_tile(folder / "N47E009.hgt");
    CHECK(std::isnan(tile.height(5, 0)));
    CHECK(std::isnan(tile.height(5, 1)));
    CHECK(std::isnan(tile.height(5, 2)));
    CHECK(tile.height(5, 3) == -430.0F);
    CHECK(tile.height(6, 0) == 8849.0F);
}

TEST_CASE("a zipped tile holds the same posts, whatever the archive is called") {
    const TileFolder folder;
    const std::string bytes = support::hgt_bytes(1201, numbered);
    support::write_zip(folder / "N47E009.hgt.zip",
                       {{"__MACOSX/._N47E009.hgt", "shadow"}, {"readme.txt", "hello"}, {"tiles/N47E009.hgt", bytes}});
    support::write_zip(folder / "download.zip", {{"N47E009.hgt", bytes}});
    support::write_zip(folder / "N47E009.SRTMGL3.hgt.zip", {{"heights.hgt", bytes}});
    for (const char* name : {"N47E009.hgt.zip", "download.zip", "N47E009.SRTMGL3.hgt.zip"}) {
        const ElevationTile tile = read_elevation_tile(folder / name);
        CHECK(tile.frame().place(0, 0) == Coordinate{48_deg, 9_deg});
        CHECK(tile.height(1200, 1200) == static_cast<float>(numbered(1200, 1200)));
        CHECK(tile.height(600, 7) == static_cast<float>(numbered(600, 7)));
    }
}

TEST_CASE("the real tile has no voids and its known range") {
    const auto file = support::shared_data("dem/N47E009.hgt");
    if (!file)
        return;
    const ElevationTile tile = read_elevation_tile(*file);
    float lowest = 9000.0F;
    float highest = -1000.0F;
    for (std::size_t row = 0; row < tile.frame().rows; ++row)
        for (std::size_t column = 0; column < tile.frame().columns; ++column) {
            REQUIRE_FALSE(std::isnan(tile.height(row, column)));
            lowest = std::min(lowest, tile.height(row, column));
            highest = std::max(highest, tile.height(row, column));
        }
    CHECK(lowest == 388.0F);
    CHECK(highest == 2937.0F);
}

TEST_CASE("a file that is no SRTM tile is refused with what to do") {
    const TileFolder folder;
    CHECK(contains(fault_in(folder / "N47E009.hgt"), "N47E009.hgt: is not there; name an elevation tile"));
    CHECK(contains(fault_in(folder.path()), "is no plain file"));

    write_hgt(folder / "heights.hgt", 1201, numbered);
    CHECK(contains(fault_in(folder / "heights.hgt"),
                   "\"heights.hgt\" does not say where the tile lies; name it after its south-west corner"));

    write_bytes(folder / "N01E001.hgt", std::string(2884800, 'x'));
    CHECK(contains(fault_in(folder / "N01E001.hgt"), "\"2884800 bytes\" is not the size of an SRTM tile; get the file "
                                                     "again; a 3 arc second tile has 2884802 bytes"));
    write_bytes(folder / "N01E002.hgt", "");
    CHECK(
        contains(fault_in(folder / "N01E002.hgt"), "\"0 bytes\" is not the size of an SRTM tile; get the file again"));

    write_bytes(folder / "notes.txt", "N47E009");
    CHECK(contains(fault_in(folder / "notes.txt"), "is no elevation tile that can be read; give an SRTM tile"));
    write_bytes(folder / "nothing", "");
    CHECK(contains(fault_in(folder / "nothing"), "is no elevation tile that can be read"));
}

TEST_CASE("a broken or puzzling archive is refused with what to do") {
    const TileFolder folder;
    const std::string bytes = support::hgt_bytes(1201, numbered);
    const auto fault_of_zip = [&](const std::vector<support::ZipMember>& members) {
        support::write_zip(folder / "N47E009.hgt.zip", members);
        return fault_in(folder / "N47E009.hgt.zip");
    };
    CHECK(contains(fault_of_zip({{"readme.txt", "hello"}}), "holds no .hgt; name an archive with one SRTM tile"));
    CHECK(contains(fault_of_zip({{"N47E009.hgt", bytes}, {"N47E010.hgt", bytes}}),
                   "holds more than one .hgt; unpack it"));
    CHECK(contains(fault_of_zip({{"N48E009.hgt", bytes}}),
                   "\"N48E009.hgt\" inside lies elsewhere than the archive's name says; rename the archive"));
    CHECK(contains(fault_of_zip({{"N47E009.hgt", "short"}}), "\"5 bytes\" is not the size of an SRTM tile inside"));
    CHECK(contains(fault_of_zip({{"N47E009.hgt", bytes, "secret"}}), "is locked with a password; unpack it"));

    support::write_zip(folder / "download.zip", {{"heights.hgt", bytes}});
    CHECK(contains(fault_in(folder / "download.zip"), "\"download.zip\" does not say where the tile lies"));

    write_bytes(folder / "N02E002.hgt.zip", "PK\3\4 and nothing more");
    CHECK(contains(fault_in(folder / "N02E002.hgt.zip"), "is no zip archive, or is cut short; get the file again"));

    // Bytes of the archive's table of contents, a record "PK\1\2" for each member.
    const auto fault_with_bytes = [&](std::size_t offset, const std::string& other) {
        support::write_zip(folder / "N03E003.hgt.zip", {{"N03E003.hgt", bytes}});
        std::string packed = bytes_of(folder / "N03E003.hgt.zip");
        const std::size_t record = packed.rfind("PK\1\2");
        REQUIRE(record != std::string::npos);
        packed.replace(record + offset, other.size(), other);
        write_bytes(folder / "N03E003.hgt.zip", packed);
        return fault_in(folder / "N03E003.hgt.zip");
    };
    CHECK(fault_with_bytes(4, "").empty());
    CHECK(contains(fault_with_bytes(0, "XX"), "has a broken table of contents; get the file again"));
    CHECK(contains(fault_with_bytes(10, std::string("\x63\0", 2)), "can't be unpacked; get the file again"));

    // Another checksum, both where the member begins and in the table.
    support::write_zip(folder / "N04E004.hgt.zip", {{"N04E004.hgt", bytes}});
    std::string packed = bytes_of(folder / "N04E004.hgt.zip");
    packed.replace(packed.find("PK\3\4") + 14, 4, "crc!");
    packed.replace(packed.rfind("PK\1\2") + 16, 4, "crc!");
    write_bytes(folder / "N04E004.hgt.zip", packed);
    CHECK(contains(fault_in(folder / "N04E004.hgt.zip"), "fails its checksum; get the file again"));
}

TEST_CASE("a tile one may not read is told so") {
    if (::geteuid() == 0) {
        MESSAGE("SKIPPED: root reads everything");
        return;
    }
    const TileFolder folder;
    write_hgt(folder / "N47E009.hgt", 1201, numbered);
    std::filesystem::permissions(folder / "N47E009.hgt", std::filesystem::perms::none);
    CHECK(contains(fault_in(folder / "N47E009.hgt"), "can't be read: "));
}
