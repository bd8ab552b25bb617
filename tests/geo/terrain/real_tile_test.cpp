#include "geo/geodesic.hpp"
#include "geo/sky/refraction.hpp"
#include "geo/terrain/direct_sun.hpp"
#include "geo/terrain/horizon.hpp"
#include "geo/terrain/sight_line.hpp"
#include "tests/geo/terrain/ray_cast.hpp"
#include "tests/geo/utc.hpp"
#include "tests/support/near.hpp"
#include "tests/support/shared_data.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>

using namespace geo::literals;
using namespace std::chrono_literals;
using geo::Coordinate;
using geo::Degrees;
using geo::Instant;
using geo::Metres;
using geo::terrain::ElevationSheet;
using geo::terrain::find_horizon;
using geo::terrain::HorizonPoint;
using geo::terrain::HorizonProfile;
using geo::terrain::SightLine;
using support::near;

namespace {

/// The shorter side of a three arc second cell.
double cell_at(Coordinate place) {
    return geo::distance(place, {place.latitude, place.longitude + Degrees{3.0 / 3600.0}}).value;
}

/// A tile and where in it to stand.
struct Mountains {
    std::filesystem::path file;
    geo::terrain::CoverageBox box;
    std::size_t places;
};

/// The demo island, and real mountains where they are at hand.
std::vector<Mountains> all_mountains() {
    std::vector<Mountains> all{{std::filesystem::path(DAYWEAVE_SOURCE_DIR) / "regions/ondrel/N46W028.hgt",
                                {{-27.7}, {46.4}, {-27.3}, {46.6}},
                                15}};
    if (const auto file = support::shared_data("dem/N47E009.hgt"))
        all.push_back({*file, {{9.05}, {47.05}, {9.95}, {47.95}}, 50});
    return all;
}

std::vector<Coordinate> places_in(const geo::terrain::CoverageBox& box, std::size_t count) {
    std::mt19937 random(20270514);
    std::uniform_real_distribution<double> part(0.0, 1.0);
    std::vector<Coordinate> places;
    for (std::size_t n = 0; n < count; ++n) {
        const Degrees latitude = box.south + part(random) * (box.north - box.south);
        places.push_back({latitude, box.west + part(random) * (box.east - box.west)});
    }
    return places;
}

void compare_with_close_rays(const Mountains& mountains) {
    const auto sheet = geo::terrain::read_elevation_sheet({mountains.file});
    // All 720 azimuths of all 50 places are compared by the benchmark; here every 29th.
    for (const Coordinate place : places_in(mountains.box, mountains.places)) {
        const auto horizon = find_horizon(sheet, place);
        REQUIRE(horizon);
        for (std::size_t index = 0; index < HorizonProfile::azimuths; index += 29) {
            const Degrees azimuth{static_cast<double>(index) / 2.0};
            const SightLine line(place, azimuth, 60000_m);
            const HorizonPoint dense =
                support::cast_ray(sheet, place, azimuth, cell_at(place), [&](double s) { return line.at({s}); });
            const HorizonPoint found = horizon->points()[index];
            const bool is_near = dense.distance < 2000_m;
            CAPTURE(place.latitude.value);
            CAPTURE(place.longitude.value);
            CAPTURE(azimuth.value);
            CAPTURE(found.angle.value);
            CAPTURE(found.distance.value);
            CAPTURE(dense.angle.value);
            CAPTURE(dense.distance.value);
            CHECK(near(found.angle, dense.angle, is_near ? 0.1_deg : 0.05_deg));
            // The found crest is ground that is there, not higher than it is.
            const auto crest = sheet.height(line.at(found.distance));
            if (!crest) {
                CHECK_MESSAGE(found.distance > found.known_to, "the sea's horizon, where data end");
                CHECK(found.angle < 0_deg);
                continue;
            }
            CHECK(near(found.angle,
                       geo::terrain::sight_angle(*crest - horizon->eye_elevation(), found.distance,
                                                 geo::terrain::radius_of_curvature(place.latitude, azimuth), 0.13),
                       1e-6_deg));
        }
    }
}

void compare_with_blocks_open(const Mountains& mountains) {
    // With a single unknown post in each block nothing is passed over.
    auto tile = geo::terrain::read_elevation_tile(mountains.file);
    auto holed = geo::terrain::read_elevation_tile(mountains.file);
    const ElevationSheet whole(std::vector{std::move(tile)});
    for (std::size_t row = 16; row < 1201; row += 32)
        for (std::size_t column = 16; column < 1201; column += 32)
            holed.set_height(row, column, geo::terrain::unknown_height);
    const ElevationSheet slow(std::vector{std::move(holed)}, {.largest_hole_filled = 0_m});
    int equal = 0;
    int compared = 0;
    for (const Coordinate place : places_in(mountains.box, 6)) {
        const auto quick = find_horizon(whole, place);
        const auto careful = find_horizon(slow, place);
        if (!careful)
            continue;
        for (std::size_t index = 0; index < HorizonProfile::azimuths; ++index) {
            // Where a hole lies on the crest the careful one sees less; more only where it thereby takes another of two
            // equal crests, which are looked at closely one at a time.
            CAPTURE(quick->points()[index].angle.value);
            CAPTURE(quick->points()[index].distance.value);
            CAPTURE(careful->points()[index].angle.value);
            CAPTURE(careful->points()[index].distance.value);
            CHECK(quick->points()[index].angle >= careful->points()[index].angle - 0.01_deg);
            equal += quick->points()[index].angle == careful->points()[index].angle ? 1 : 0;
            ++compared;
        }
    }
    CHECK(compared >= 4 * 720);
    CHECK(equal > compared * 95 / 100);
}

std::size_t compare_with_every_minute(const Mountains& mountains) {
    const auto sheet = geo::terrain::read_elevation_sheet({mountains.file});
    std::size_t days = 0;
    for (const Coordinate place : places_in(mountains.box, mountains.places)) {
        const auto horizon = find_horizon(sheet, place);
        REQUIRE(horizon);
        const auto path = geo::terrain::sun_path(place, horizon->eye_elevation());
        for (int month = 0; month < 12; ++month) {
            const Instant midnight = support::utc("2027-01-15T00:00:00Z") + month * 30 * 24h;
            const auto sun = geo::terrain::direct_sun(path, *horizon, {midnight, midnight + 24h});
            std::optional<Instant> first;
            std::optional<Instant> last;
            for (Instant when = midnight; when < midnight + 24h; when += 1min) {
                const auto sight = path(geo::sky::precise(when));
                const Degrees limb = sight.centre.altitude + sight.semidiameter;
                if (limb + geo::sky::refraction_from_true(limb) <= horizon->angle(sight.centre.azimuth))
                    continue;
                first = first.value_or(when);
                last = when;
            }
            CAPTURE(place.latitude.value);
            CAPTURE(place.longitude.value);
            CAPTURE(month);
            // A gleam shorter than a minute may lie before the first look or after the last.
            auto spans = sun.direct;
            const auto is_gleam = [](const geo::Interval& span) { return span.length() <= 60s; };
            spans.erase(std::remove_if(spans.begin(), spans.end(), is_gleam), spans.end());
            REQUIRE(first.has_value() >= !spans.empty());
            if (spans.empty())
                continue;
            ++days;
            CHECK(spans.front().from >= *first - 60s);
            CHECK(sun.direct.front().from <= *first);
            CHECK(sun.direct.back().until >= *last);
            CHECK(spans.back().until <= *last + 60s);
        }
    }
    return days;
}

} // namespace

TEST_CASE("among mountains the horizon is that of a ray cast ten times as close") {
    for (const Mountains& mountains : all_mountains())
        compare_with_close_rays(mountains);
}

TEST_CASE("passing over low ground in blocks changes no angle") {
    for (const Mountains& mountains : all_mountains())
        compare_with_blocks_open(mountains);
}

TEST_CASE("first and last direct sun among mountains are those of a look every minute") {
    for (const Mountains& mountains : all_mountains())
        CHECK(compare_with_every_minute(mountains) > 10 * mountains.places);
}
