#include "geo/terrain/horizon_cache.hpp"

#include "tests/geo/terrain/tile_fixtures.hpp"

#include <doctest/doctest.h>

#include <chrono>
#include <fstream>

using namespace geo::literals;
using geo::Coordinate;
using geo::terrain::HorizonCache;
using geo::terrain::HorizonSettings;
using support::TileFolder;

namespace {

constexpr Coordinate place{-8.5_deg, -35.5_deg};

double hills(std::size_t row, std::size_t column) {
    return 500.0 + static_cast<double>((row / 20 * 37 + column / 20 * 91) % 400);
}

double other_hills(std::size_t row, std::size_t column) {
    return 1500.0 - hills(row, column);
}

std::string bytes_of(const std::filesystem::path& file) {
    std::string bytes(std::filesystem::file_size(file), '\0');
    std::ifstream(file, std::ios::binary).read(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    return bytes;
}

std::size_t files_in(const std::filesystem::path& folder) {
    std::size_t count = 0;
    for ([[maybe_unused]] const auto& entry : std::filesystem::directory_iterator(folder))
        ++count;
    return count;
}

/// A tile, a folder to keep horizons in, and one horizon kept there.
struct Kept {
    TileFolder folder;
    std::filesystem::path tile = folder / "S09W036.hgt";
    std::filesystem::path store = folder / "store";
    std::vector<geo::terrain::HorizonPoint> points;
    std::filesystem::path file;

    Kept() {
        support::write_hgt(tile, 1201, hills);
        HorizonCache cache({tile}, store);
        points = cache.at(place).value().points();
        file = cache.file_for(place).value();
    }
    /// Whether a new cache answers from the file; its answer must be right either way.
    bool answers_from_file() {
        HorizonCache cache({tile}, store);
        CHECK(cache.at(place).value().points() == points);
        CHECK(cache.trouble().empty());
        return !cache.sheet_is_open();
    }
};

} // namespace

TEST_CASE("a kept horizon is the same to the last bit and opens no tile") {
    Kept kept;
    CHECK(std::filesystem::exists(kept.file));
    CHECK(kept.answers_from_file());
    HorizonCache cache({kept.tile}, kept.store);
    const auto horizon = cache.at(place);
    REQUIRE(horizon);
    const auto fresh = find_horizon(cache.sheet(), place);
    REQUIRE(fresh);
    CHECK(horizon->points() == fresh->points());
    CHECK(horizon->eye_elevation() == fresh->eye_elevation());
    CHECK(horizon->settings() == fresh->settings());
    CHECK(files_in(kept.store) == 1);
}

TEST_CASE("that a place lies on unknown ground is kept too") {
    Kept kept;
    const Coordinate elsewhere{40_deg, 10_deg};
    CHECK_FALSE(HorizonCache({kept.tile}, kept.store).at(elsewhere));
    HorizonCache again({kept.tile}, kept.store);
    CHECK_FALSE(again.at(elsewhere));
    CHECK_FALSE(again.sheet_is_open());
}

TEST_CASE("a changed tile is reckoned again and the file replaced") {
    Kept kept;
    support::write_hgt(kept.tile, 1201, other_hills);
    std::filesystem::last_write_time(kept.tile, std::filesystem::last_write_time(kept.tile) + std::chrono::seconds(5));
    HorizonCache cache({kept.tile}, kept.store);
    CHECK(cache.at(place).value().points() != kept.points);
    CHECK(cache.sheet_is_open());
    CHECK(files_in(kept.store) == 1);
    kept.points = cache.at(place).value().points();
    CHECK(kept.answers_from_file());
}

TEST_CASE("a tile that was only touched still fits") {
    Kept kept;
    std::filesystem::last_write_time(kept.tile, std::filesystem::last_write_time(kept.tile) + std::chrono::seconds(5));
    CHECK(kept.answers_from_file());
}

TEST_CASE("another place, eye, range, refraction or list of tiles is another horizon") {
    Kept kept;
    const auto opens = [&](Coordinate where, HorizonSettings settings) {
        HorizonCache cache({kept.tile}, kept.store, settings);
        REQUIRE(cache.at(where));
        return cache.sheet_is_open();
    };
    CHECK_FALSE(opens(place, {}));
    CHECK(opens({-8.5_deg, -35.500001_deg}, {}));
    CHECK(opens(place, {.eye_height = 3_m}));
    CHECK(opens(place, {.range = 20000_m}));
    CHECK(opens(place, {.refraction = 0.2}));
    support::write_hgt(kept.folder / "S09W035.hgt", 1201, hills);
    HorizonCache two({kept.tile, kept.folder / "S09W035.hgt"}, kept.store);
    REQUIRE(two.at(place));
    CHECK(two.sheet_is_open());
    CHECK(files_in(kept.store) == 6);
    CHECK(kept.answers_from_file());
}

TEST_CASE("a file cut short or with any byte changed is made again without a word") {
    Kept kept;
    const std::string whole = bytes_of(kept.file);
    for (const std::size_t size :
         {std::size_t{0}, std::size_t{7}, std::size_t{70}, whole.size() / 2, whole.size() - 1}) {
        support::write_bytes(kept.file, whole.substr(0, size));
        CHECK_FALSE(kept.answers_from_file());
        CHECK(bytes_of(kept.file) == whole);
    }
    support::write_bytes(kept.file, whole + "x");
    CHECK_FALSE(kept.answers_from_file());
    for (std::size_t at = 3; at < whole.size(); at += whole.size() / 12) {
        std::string changed = whole;
        changed[at] = static_cast<char>(changed[at] ^ 0x10);
        support::write_bytes(kept.file, changed);
        CHECK_FALSE(kept.answers_from_file());
        CHECK(bytes_of(kept.file) == whole);
    }
}

TEST_CASE("a folder that can't be written is told, and the horizon is right all the same") {
    Kept kept;
    support::write_bytes(kept.folder / "no_folder", "a file");
    HorizonCache cache({kept.tile}, kept.folder / "no_folder");
    CHECK(cache.at(place).value().points() == kept.points);
    CHECK(cache.trouble().find("can't be written: ") != std::string::npos);
    HorizonCache without({kept.tile}, std::nullopt);
    CHECK(without.at(place).value().points() == kept.points);
    CHECK(without.trouble().empty());
    CHECK_FALSE(without.file_for(place));
}

TEST_CASE("a tile that is gone is a fault though a horizon is kept") {
    Kept kept;
    std::filesystem::remove(kept.tile);
    HorizonCache cache({kept.tile}, kept.store);
    CHECK(support::fault_of([&] { (void)cache.at(place); }).find("S09W036.hgt: is not there") != std::string::npos);
    CHECK_THROWS_AS((void)cache.at({91_deg, 0_deg}), std::domain_error);
}
