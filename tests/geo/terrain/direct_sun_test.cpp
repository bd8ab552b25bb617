#include "geo/terrain/direct_sun.hpp"

#include "geo/sky/refraction.hpp"
#include "geo/sky/sun_events.hpp"
#include "tests/geo/csv.hpp"
#include "tests/geo/utc.hpp"
#include "tests/support/near.hpp"
#include "tests/support/shared_data.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <random>

using namespace geo::literals;
using namespace std::chrono_literals;
using geo::Coordinate;
using geo::Degrees;
using geo::Instant;
using geo::Interval;
using geo::Intervals;
using geo::terrain::direct_sun;
using geo::terrain::DiscPath;
using geo::terrain::HorizonPoint;
using geo::terrain::HorizonProfile;
using geo::terrain::TerrainSun;
using support::near;
using support::utc;

namespace {

Interval day_from(const std::string& midnight) {
    return {utc(midnight), utc(midnight) + 24h};
}

bool shines(const DiscPath& sun, const HorizonProfile& horizon, Instant when) {
    const auto sight = sun(geo::sky::precise(when));
    const Degrees limb = sight.centre.altitude + sight.semidiameter;
    return limb + geo::sky::refraction_from_true(limb) > horizon.angle(sight.centre.azimuth);
}

bool covers(const Intervals& list, Instant when) {
    return std::any_of(list.begin(), list.end(),
                       [&](const Interval& span) { return span.from <= when && when <= span.until; });
}

/// Ridges of every kind: smooth, and jagged by up to `jag` degrees from one azimuth to the next.
HorizonProfile jagged(unsigned seed, double mean, double jag) {
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> any(-jag, jag);
    std::vector<HorizonPoint> points;
    for (std::size_t index = 0; index < HorizonProfile::azimuths; ++index)
        points.push_back({{mean + 3.0 * std::sin(static_cast<double>(index) / 20.0) + any(random)}, 5000_m, 60000_m});
    return {std::move(points), 500_m, {}};
}

struct LatitudeAndDay {
    double latitude;
    const char* day;
};

struct RidgeRow {
    const char* day;
    double latitude, longitude, ridge;
    const char* rise;
    const char* set;
};

// Derived from JPL DE405, not published: upper limb, true semidiameter, Saemundsson refraction, UT1 = UTC.
constexpr std::array<RidgeRow, 9> ridge_rows{{
    {"2026-03-20T00:00:00Z", 46.5, 8, 5.6719, "2026-03-20T06:06:42.7Z", "2026-03-20T17:04:56.3Z"},
    {"2026-03-20T00:00:00Z", 60, 10, 5.6719, "2026-03-20T06:10:44.5Z", "2026-03-20T16:45:22.3Z"},
    {"2026-03-20T00:00:00Z", 46.5, 8, 12.0, "2026-03-20T06:44:22.1Z", "2026-03-20T16:27:13.1Z"},
    {"2026-06-21T00:00:00Z", 46.5, 8, 5.6719, "2026-06-21T04:17:07.3Z", "2026-06-21T18:42:30.0Z"},
    {"2026-06-21T00:00:00Z", 60, 10, 5.6719, "2026-06-21T03:08:00.5Z", "2026-06-21T19:35:36.4Z"},
    {"2026-06-21T00:00:00Z", 46.5, 8, 12.0, "2026-06-21T04:58:19.0Z", "2026-06-21T18:01:18.3Z"},
    {"2026-12-21T00:00:00Z", 46.5, 8, 5.6719, "2026-12-21T07:53:58.4Z", "2026-12-21T14:58:07.5Z"},
    {"2026-12-21T00:00:00Z", 60, 10, 5.6719, "2026-12-21T10:05:34.6Z", "2026-12-21T12:30:30.9Z"},
    {"2026-12-21T00:00:00Z", 46.5, 8, 12.0, "2026-12-21T08:49:49.6Z", "2026-12-21T14:02:16.3Z"},
}};

} // namespace

TEST_CASE("the sun comes over a level ridge and goes behind it when the reference says") {
    for (const RidgeRow& row : ridge_rows) {
        CAPTURE(row.rise);
        const auto sun =
            direct_sun({{row.latitude}, {row.longitude}}, HorizonProfile::level({row.ridge}), day_from(row.day));
        REQUIRE(sun.direct.size() == 1);
        CHECK(near(sun.direct[0].from, utc(row.rise), 3s));
        CHECK(near(sun.direct[0].until, utc(row.set), 3s));
        CHECK(sun.open_shade.size() == 2);
        CHECK(sun.uncertain.empty());
    }
}

TEST_CASE("every terrain sunrise and sunset of the check table comes out") {
    const auto file = support::shared_data("light_checks.csv");
    if (!file)
        return;
    int rows = 0;
    for (const auto& row : support::read_csv(*file)) {
        const bool rise = row.at("quantity") == "terrain_sunrise";
        if (!rise && row.at("quantity") != "terrain_sunset")
            continue;
        ++rows;
        const std::string& input = row.at("input");
        const double ridge = std::stod(input.substr(input.find('=') + 1));
        const auto sun = direct_sun({{std::stod(row.at("lat"))}, {std::stod(row.at("lon"))}},
                                    HorizonProfile::level({ridge}), day_from(row.at("date_utc")));
        REQUIRE(sun.direct.size() == 1);
        CAPTURE(row.at("expected"));
        CHECK(near(rise ? sun.direct[0].from : sun.direct[0].until, utc(row.at("expected")),
                   geo::Seconds{std::stol(row.at("tolerance"))}));
    }
    CHECK(rows == 18);
}

TEST_CASE("open shade begins and ends with sunrise and sunset over the flat horizon") {
    const Coordinate place{46.5_deg, 8_deg};
    const Interval day = day_from("2026-03-20T00:00:00Z");
    const auto sun = direct_sun(place, HorizonProfile::level(5.6719_deg), day);
    const auto flat = geo::sky::sun_crossings(place, 0_m, geo::sky::HorizonRule::upper_limb, day);
    REQUIRE(sun.open_shade.size() == 2);
    REQUIRE(flat.size() == 2);
    CHECK(near(sun.open_shade[0].from, flat[0].when, 1s));
    CHECK(sun.open_shade[0].until == sun.direct[0].from);
    CHECK(sun.open_shade[1].from == sun.direct[0].until);
    CHECK(near(sun.open_shade[1].until, flat[1].when, 1s));
}

TEST_CASE("a notch in the ridge gives a sunrise of its own") {
    // A wall 10 degrees high with a gap to the plain at azimuth 95 to 99, where the sun passes soon after rising.
    std::vector<HorizonPoint> points(HorizonProfile::azimuths, {10_deg, 3000_m, 60000_m});
    for (std::size_t index = 190; index <= 198; ++index)
        points[index].angle = 0_deg;
    const HorizonProfile horizon(points, 500_m, {});
    const auto sun = direct_sun({46.5_deg, 8_deg}, horizon, day_from("2026-03-20T00:00:00Z"));
    REQUIRE(sun.direct.size() == 2);
    CHECK(sun.open_shade.size() == 3);
    CHECK(sun.direct[0].until < sun.direct[1].from);
}

TEST_CASE("direct sun behind any ridge agrees with a look at every second") {
    for (const unsigned seed : {1U, 2U, 3U})
        for (const LatitudeAndDay& at : {LatitudeAndDay{46.5, "2026-03-20T00:00:00Z"},
                                         {-33.0, "2026-12-01T00:00:00Z"},
                                         {8.0, "2026-04-12T00:00:00Z"},
                                         {69.0, "2026-06-21T00:00:00Z"}}) {
            const Coordinate place{{at.latitude}, 20_deg};
            const HorizonProfile horizon = jagged(seed, 4.0, 1.5);
            const Interval day = day_from(at.day);
            const DiscPath path = geo::terrain::sun_path(place, 500_m);
            const TerrainSun sun = direct_sun(path, horizon, day);
            int wrong = 0;
            for (Instant when = day.from; when < day.until; when += 7s) {
                const bool borders = std::any_of(sun.direct.begin(), sun.direct.end(), [&](const Interval& span) {
                    return std::chrono::abs(span.from - when) <= 1s || std::chrono::abs(span.until - when) <= 1s;
                });
                wrong += !borders && shines(path, horizon, when) != covers(sun.direct, when) ? 1 : 0;
            }
            CAPTURE(seed);
            CAPTURE(at.latitude);
            CHECK(wrong == 0);
            for (const Interval& shade : sun.open_shade)
                for (const Interval& direct : sun.direct)
                    CHECK((shade.until <= direct.from || shade.from >= direct.until));
        }
}

TEST_CASE("sun all day, none all day and midnight sun behind a ridge are lists, not errors") {
    const Interval midsummer = day_from("2026-06-21T00:00:00Z");
    const Interval midwinter = day_from("2026-12-21T00:00:00Z");
    const Coordinate north{70_deg, 25_deg};
    const auto all_day = direct_sun(north, HorizonProfile::level(0_deg), midsummer);
    CHECK(all_day.direct == Intervals{midsummer});
    CHECK(all_day.open_shade.empty());
    const auto none = direct_sun(north, HorizonProfile::level(0_deg), midwinter);
    CHECK(none.direct.empty());
    CHECK(none.open_shade.empty());
    const auto behind = direct_sun(north, HorizonProfile::level(8_deg), midsummer);
    CHECK(behind.direct.size() == 1);
    CHECK(behind.open_shade.size() == 2);
    CHECK(behind.open_shade.front().from == midsummer.from);
    CHECK(behind.open_shade.back().until == midsummer.until);
    const auto deep = direct_sun(north, HorizonProfile::level(50_deg), midsummer);
    CHECK(deep.direct.empty());
    CHECK(deep.open_shade == Intervals{midsummer});
}

TEST_CASE("a summit sees the sun before and after those below, refraction counted once") {
    // At -1.5 degrees of dip the limb must rise to -1.5 apparent; the true altitude there is lower by the refraction.
    const Coordinate place{46.5_deg, 8_deg};
    const Interval day = day_from("2026-03-20T00:00:00Z");
    const auto summit = direct_sun(place, HorizonProfile::level(-1.5_deg), day);
    const auto plain = direct_sun(place, HorizonProfile::level(0_deg), day);
    REQUIRE(summit.direct.size() == 1);
    CHECK(summit.open_shade.empty());
    const auto path = geo::terrain::sun_path(place, 0_m);
    const auto sight = path(geo::sky::precise(summit.direct[0].from));
    const Degrees limb = sight.centre.altitude + sight.semidiameter;
    CHECK(near(limb + geo::sky::refraction_from_true(limb), -1.5_deg, 0.005_deg));
    const auto earlier = plain.direct[0].from - summit.direct[0].from;
    CHECK(earlier > 8min);
    CHECK(earlier < 10min);
}

TEST_CASE("direct sun where the ground is not known to the end is marked uncertain") {
    auto points = HorizonProfile::level(2_deg).points();
    for (std::size_t index = 360; index < 720; ++index)
        points[index].known_to = 12000_m; // the western half
    const HorizonProfile horizon(points, 500_m, {});
    const auto sun = direct_sun({46.5_deg, 8_deg}, horizon, day_from("2026-03-20T00:00:00Z"));
    REQUIRE(sun.direct.size() == 1);
    REQUIRE(sun.uncertain.size() == 1);
    CHECK(sun.uncertain[0].until == sun.direct[0].until);
    const auto noon = geo::terrain::sun_path({46.5_deg, 8_deg}, 0_m)(geo::sky::precise(sun.uncertain[0].from));
    CHECK(near(noon.centre.azimuth, 179.5_deg, 0.02_deg));
    CHECK(horizon.known_to(179.75_deg) == 12000_m);
    CHECK(horizon.known_to(179.5_deg) == 60000_m);
    CHECK(horizon.known_all_round() == 12000_m);
}
