#include "geo/sky/season.hpp"

#include "tests/geo/utc.hpp"
#include "tests/support/near.hpp"

#include <doctest/doctest.h>

using geo::sky::next_season;
using geo::sky::Season;
using namespace std::chrono_literals;
using support::near;
using support::utc;

TEST_CASE("seasons begin when the Naval Observatory says") {
    // US Naval Observatory, Earth's seasons; to the minute.
    struct Row {
        const char* year;
        const char* march;
        const char* june;
        const char* september;
        const char* december;
    };
    for (const Row& row :
         {Row{"2026-01-01T00:00Z", "2026-03-20T14:46Z", "2026-06-21T08:24Z", "2026-09-23T00:05Z", "2026-12-21T20:50Z"},
          Row{"2028-01-01T00:00Z", "2028-03-20T02:17Z", "2028-06-20T20:02Z", "2028-09-22T11:45Z",
              "2028-12-21T08:19Z"}}) {
        const auto start = utc(row.year);
        CHECK(near(next_season(Season::march_equinox, start), utc(row.march), 60s));
        CHECK(near(next_season(Season::june_solstice, start), utc(row.june), 60s));
        CHECK(near(next_season(Season::september_equinox, start), utc(row.september), 60s));
        CHECK(near(next_season(Season::december_solstice, start), utc(row.december), 60s));
    }
}

TEST_CASE("seasons agree with Meeus to five seconds") {
    // Meeus, Astronomical Algorithms (1998), chapter 27: 2000-06-21 01:48:46 TD and 2003-12-22 07:04:53 TD, less the
    // 64.184 s of TD - UTC.
    CHECK(near(next_season(Season::june_solstice, utc("2000-06-20T00:00:00Z")), utc("2000-06-21T01:47:42Z"), 5s));
    CHECK(near(next_season(Season::december_solstice, utc("2003-12-01T00:00:00Z")), utc("2003-12-22T07:03:49Z"), 5s));
}

TEST_CASE("the next season is never before the asked instant and never more than a year after") {
    for (const Season season :
         {Season::march_equinox, Season::june_solstice, Season::september_equinox, Season::december_solstice}) {
        const auto first = next_season(season, utc("2027-01-01T00:00:00Z"));
        for (const auto shift : {-1h, 0h, 1h}) {
            const auto next = next_season(season, first + shift);
            CHECK(next >= first + shift);
            CHECK(next - first < 366 * 24h);
        }
        CHECK(next_season(season, first - 1s) == first);
        CHECK(next_season(season, first + 1s) > first + 364 * 24h);
    }
}
