#include "cli/find_light.hpp"

#include "shoot_fixture.hpp"

#include "cli/write_light_found.hpp"
#include "geo/light_window.hpp"
#include "geo/sky/moon.hpp"
#include "geo/sky/refraction.hpp"
#include "geo/sky/sun_view.hpp"
#include "geo/terrain/direct_sun.hpp"

#include <doctest/doctest.h>

#include <cmath>

using fixture::contains;
using fixture::has_fault;
using namespace std::chrono_literals;

namespace {

using geo::sky::precise;

std::vector<geo::InputFault> wish_faults(const std::string& text) {
    try {
        cli::parse_find_wish(text);
    } catch (const geo::InputError& error) {
        return error.faults();
    }
    return {};
}

std::vector<geo::CivilDate> dates_from(const char* first, int days) {
    std::vector<geo::CivilDate> dates{*geo::parse_date(first)};
    while (static_cast<int>(dates.size()) < days)
        dates.push_back(geo::next_date(dates.back()));
    return dates;
}

bool in_range(double azimuth, double from, double until) {
    return from <= until ? azimuth >= from && azimuth <= until : azimuth >= from || azimuth <= until;
}

/// A ridge 8 degrees high but for a gap 20 degrees wide in the west-north-west.
std::shared_ptr<const geo::terrain::HorizonProfile> gapped_ridge() {
    std::vector<geo::terrain::HorizonPoint> points;
    for (int n = 0; n < 720; ++n) {
        const bool gap = n >= 2 * 280 && n <= 2 * 300;
        points.push_back({{gap ? 1.0 : 8.0}, {5000.0}, {60000.0}});
    }
    return std::make_shared<const geo::terrain::HorizonProfile>(points, geo::Metres{1.7},
                                                                geo::terrain::HorizonSettings{});
}

/// Whether the disc's upper limb, lifted by the air, stands above the ground: the definition, at one instant.
bool is_seen(cli::SkyBody body, const cli::FindPlace& place, geo::Instant when) {
    const bool sun = body == cli::SkyBody::sun;
    const auto centre = sun ? geo::sky::sun_position(place.at, geo::Metres{0.0}, when)
                            : geo::sky::moon_position(place.at, geo::Metres{0.0}, when);
    const auto radius = sun ? geo::sky::sun_semidiameter(geo::sky::sun_vector(precise(when)))
                            : geo::sky::moon_semidiameter(geo::sky::moon_vector(precise(when)));
    if (!place.horizon) {
        return centre.altitude.value > -(34.0 / 60.0 + radius.value);
    }
    const auto limb = centre.altitude + radius;
    return limb + geo::sky::refraction_from_true(limb) > place.horizon->angle(centre.azimuth);
}

double azimuth(cli::SkyBody body, const cli::FindPlace& place, geo::Instant when) {
    return (body == cli::SkyBody::sun ? geo::sky::sun_position(place.at, geo::Metres{0.0}, when)
                                      : geo::sky::moon_position(place.at, geo::Metres{0.0}, when))
        .azimuth.value;
}

} // namespace

TEST_CASE("a wish to find is read word by word") {
    const auto sunset = cli::parse_find_wish("  sunset at  bearing 350..10 ");
    CHECK(sunset.text == "sunset at bearing 350..10");
    CHECK_FALSE(std::get<cli::RiseOrSet>(sunset.what).rising);
    CHECK(sunset.bearing == geo::AzimuthRange{{350.0}, {10.0}});
    const auto dark = cli::parse_find_wish("dark-sky for 30 min");
    CHECK(std::get<geo::LightName>(dark.what) == geo::LightName::dark_sky);
    CHECK(dark.at_least == 30min);
    const auto moon = cli::parse_find_wish("moon below 12.5 above 5 at bearing 90..135 for 10 min");
    CHECK(std::get<cli::BodySeen>(moon.what).body == cli::SkyBody::moon);
    CHECK(std::get<cli::BodySeen>(moon.what).below == geo::Degrees{12.5});
    // A moment has no length, so with one the light of that name is meant.
    CHECK(std::get<geo::LightName>(cli::parse_find_wish("sunset for 20 min").what) == geo::LightName::sunset);
    CHECK(std::get<cli::RiseOrSet>(cli::parse_find_wish("moonrise").what).rising);
}

TEST_CASE("a wish that makes no sense is told with value and mend") {
    const auto check = [](const char* wish, const char* value, const char* problem, const char* mend) {
        const auto faults = wish_faults(wish);
        CAPTURE(wish);
        CAPTURE(fixture::all_faults(faults));
        CHECK(has_fault(faults, "--find", problem, mend));
        CHECK((faults.size() == 1 && faults[0].value == value));
    };
    check("", "", "says nothing", "dark-sky");
    check("sunst", "sunst", "is nothing that can be looked for", "sunset");
    check("any", "any", "is nothing that can be looked for", "golden");
    check("sunset at 240", "at 240", "says not what", "at bearing A..B");
    check("sunset at", "at", "says not what", "at bearing A..B");
    check("sunset at bearing", "", "is no range of bearings", "235..245");
    check("sunset at bearing 240", "240", "is no range of bearings", "two with dots");
    check("sunset at bearing 235..361", "235..361", "is no range of bearings", "0 to 360");
    check("sunset at bearing nan..10", "nan..10", "is no range of bearings", "0 to 360");
    check("sunset at bearing 7..7", "7..7", "is no range but one bearing", "differ");
    check("sunset at bearing 0..360", "0..360", "is all round", "leave");
    check("sunset near 240", "near", "is no limit", "at bearing A..B");
    check("sun above -3", "above -3", "is no height above the horizon", "blue-evening");
    check("sun below", "below", "is no height above the horizon", "0 to 90");
    check("sun above 20 below 10", "20 and 10", "leave no height between", "smaller");
    check("sun above 3 above 4", "above", "is there twice", "once");
    check("dark-sky for 0 min", "for 0", "is no length", "1 to 1440");
    check("dark-sky for", "for", "is no length", "for 30 min");
    check("dark-sky for 2 h", "h", "is no unit known here", "for 2 min");
    check("moonrise for 5 min", "moonrise", "is a moment and has no length", "leave");
    check("golden above 3", "golden", "has its own heights", "sun and moon");
    check("dark-sky at bearing 10..20", "dark-sky", "has no bearing", "moon at bearing");
}

TEST_CASE("found risings and settings are those of a scan minute by minute") {
    const auto zone = *geo::find_time_zone("Europe/Vaduz");
    // April 26 days: the evening sun wanders from the gap's one side to the ridge beyond the other.
    const auto dates = dates_from("2027-04-02", 26);
    for (const bool has_ridge : {false, true}) {
        const cli::FindPlace place{{{47.0}, {9.5}}, has_ridge ? gapped_ridge() : nullptr};
        for (const char* text : {"sunset at bearing 275..291", "sunrise at bearing 60..95",
                                 "moonset at bearing 250..310", "moonrise at bearing 90..130"}) {
            const auto wish = cli::parse_find_wish(text);
            const auto& moment = std::get<cli::RiseOrSet>(wish.what);
            std::vector<geo::Instant> expected;
            for (const auto date : dates) {
                const auto civil = geo::civil_day(date, zone);
                // Each up period is shorter than a day here: of a day's changes within one, the first or the last.
                std::optional<geo::Instant> last;
                for (geo::Instant t = civil.from - 12h; t < civil.until + 12h; t += 1min) {
                    const bool now = is_seen(moment.body, place, t), next = is_seen(moment.body, place, t + 1min);
                    if (now == next || next != moment.rising)
                        continue;
                    // A change less than 10 hours after the one before belongs to the same time above the horizon.
                    const bool same = last && t - *last < 10h;
                    if (same && !moment.rising && !expected.empty() && expected.back() == *last)
                        expected.pop_back();
                    if (!(same && moment.rising) && t >= civil.from && t < civil.until)
                        expected.push_back(t);
                    last = t;
                }
            }
            std::erase_if(expected, [&](geo::Instant t) {
                return !in_range(azimuth(moment.body, place, t), wish.bearing->from.value, wish.bearing->until.value);
            });
            const auto found = cli::find_light(wish, place, dates, zone);
            CAPTURE(text);
            CAPTURE(has_ridge);
            CHECK_FALSE(expected.empty());
            REQUIRE(found.size() == expected.size());
            for (std::size_t n = 0; n < found.size(); ++n) {
                CHECK(found[n].window.from >= expected[n]);
                CHECK(found[n].window.from <= expected[n] + 61s);
                CHECK(found[n].date == geo::civil_date(found[n].window.from, zone));
            }
        }
    }
}

TEST_CASE("found stretches of sun and moon are those of a scan minute by minute") {
    const auto zone = *geo::find_time_zone("Pacific/Auckland");
    const auto dates = dates_from("2027-06-10", 8);
    const cli::FindPlace place{{{-44.0}, {170.0}}, gapped_ridge()};
    for (const char* text : {"sun at bearing 350..10 above 5", "moon at bearing 30..120 below 40 for 15 min"}) {
        const auto wish = cli::parse_find_wish(text);
        const auto& seen = std::get<cli::BodySeen>(wish.what);
        const auto holds = [&](geo::Instant t) {
            const auto at = seen.body == cli::SkyBody::sun ? geo::sky::sun_position(place.at, geo::Metres{0.0}, t)
                                                           : geo::sky::moon_position(place.at, geo::Metres{0.0}, t);
            return is_seen(seen.body, place, t) && (!seen.above || at.altitude >= *seen.above) &&
                   (!seen.below || at.altitude <= *seen.below) &&
                   in_range(at.azimuth.value, wish.bearing->from.value, wish.bearing->until.value);
        };
        std::size_t wished = 0, windows = 0;
        const auto found = cli::find_light(wish, place, dates, zone);
        REQUIRE_FALSE(found.empty());
        for (const auto date : dates)
            for (geo::Instant t = geo::civil_day(date, zone).from; t < geo::civil_day(date, zone).until; t += 1min) {
                const bool inside = std::any_of(found.begin(), found.end(), [&](const cli::FoundLight& hit) {
                    return hit.window.from <= t && t <= hit.window.until;
                });
                wished += holds(t);
                windows += inside;
                if (inside != holds(t)) // only at a window's very ends, or too short
                    CHECK(holds(t + 60s) != holds(t - 60s));
            }
        CAPTURE(text);
        CHECK(wished > 100);
        CHECK(windows > 100);
    }
}

TEST_CASE("a found light is the one of its name, once for each window and long enough") {
    const auto zone = *geo::find_time_zone("Atlantic/Azores");
    const geo::Coordinate arch{{-35.21}, {-8.47}};
    const auto dates = dates_from("2027-05-14", 10);
    const auto found = cli::find_light(cli::parse_find_wish("dark-sky for 30 min"), {arch, nullptr}, dates, zone);
    geo::Intervals expected;
    for (const auto date : dates)
        for (const auto& window :
             geo::light_windows(geo::LightName::dark_sky, arch, geo::Metres{0.0}, date, zone).intervals)
            if (window.length() >= 30min && (expected.empty() || !(expected.back() == window)))
                expected.push_back(window);
    REQUIRE(found.size() == expected.size());
    for (std::size_t n = 0; n < found.size(); ++n)
        CHECK(found[n].window == expected[n]);
    // The bearing narrows a light of the sun, and the best minute lies inside.
    const auto golden = cli::find_light(cli::parse_find_wish("golden-evening at bearing 290..295"), {arch, nullptr},
                                        dates_from("2027-05-14", 2), zone);
    REQUIRE(golden.size() == 2);
    REQUIRE(golden[0].azimuths);
    CHECK(std::abs(golden[0].azimuths->first.value - 295.0) < 0.01); // the sun goes round by the north
    REQUIRE(golden[0].best);
    CHECK(golden[0].best->when >= golden[0].window.from);
    CHECK(golden[0].best->when <= golden[0].window.until);
}

TEST_CASE("where the sun never sets nothing is found, behind a ridge every time it goes") {
    const auto zone = *geo::find_time_zone("UTC");
    const auto dates = dates_from("2027-06-21", 1);
    const geo::Coordinate north{{75.0}, {20.0}};
    const auto sunset = cli::parse_find_wish("sunset");
    CHECK(cli::find_light(sunset, {north, nullptr}, dates, zone).empty());
    // Lowest at 8.4 degrees: a ridge of 10 degrees with gaps hides it more than once.
    std::vector<geo::terrain::HorizonPoint> points;
    for (int n = 0; n < 720; ++n)
        points.push_back({{(n / 20) % 2 == 0 ? 10.0 : 2.0}, {5000.0}, {60000.0}});
    const auto ridge =
        std::make_shared<const geo::terrain::HorizonProfile>(points, geo::Metres{1.7}, geo::terrain::HorizonSettings{});
    CHECK(cli::find_light(sunset, {north, ridge}, dates, zone).size() > 1);
    // A sun up all day is one stretch a day, cut at midnight.
    const auto up = cli::find_light(cli::parse_find_wish("sun"), {north, nullptr}, dates_from("2027-06-21", 2), zone);
    REQUIRE(up.size() == 2);
    CHECK(up[0].window == geo::civil_day(dates[0], zone));
}

TEST_CASE("the sun sets where spherical trigonometry says") {
    // cos A = (sin declination - sin latitude sin h) / (cos latitude cos h); declination of the solstice 23.436
    // degrees: 84381.406" - 46.837" a century (obliquity, IAU 2006 precession), nutation 0.003 at most; h = -0.833.
    const auto zone = *geo::find_time_zone("Etc/UTC");
    const auto found =
        cli::find_light(cli::parse_find_wish("sunset"), {{{50.0}, {0.0}}, nullptr}, dates_from("2027-06-21", 1), zone);
    REQUIRE(found.size() == 1);
    const auto radians = [](double degrees) { return degrees * 3.14159265358979 / 180.0; };
    const double cosine = (std::sin(radians(23.436)) - std::sin(radians(50)) * std::sin(radians(-0.833))) /
                          (std::cos(radians(50)) * std::cos(radians(-0.833)));
    CHECK(std::abs(found[0].azimuths->first.value - (360.0 - std::acos(cosine) * 180.0 / 3.14159265358979)) < 0.02);
}

TEST_CASE("what was found is told in words, JSON and CSV") {
    const auto zone = *geo::find_time_zone("Atlantic/Azores");
    const auto dates = dates_from("2027-05-14", 3);
    cli::LightPlace place{"arch", "Arch | west", {{-35.21}, {-8.47}}};
    place.facing = geo::Degrees{280.0};
    const auto tell = [&](const char* text) {
        const auto wish = cli::parse_find_wish(text);
        const std::vector<cli::PlaceFound> found{
            {place, dates, cli::find_light(wish, {place.at, nullptr}, dates, zone)}};
        return std::array{cli::found_tables(wish, found, zone), cli::found_json(wish, found, zone),
                          cli::found_csv(wish, found, zone)};
    };
    const auto sunset = tell("sunset at bearing 292..292.5");
    CHECK(contains(sunset[0], "# Arch \\| west (-35.21,-8.47): sunset at bearing 292..292.5"));
    CHECK(contains(sunset[0], "| 17:39 | 292°, 12° right of the camera |"));
    CHECK(contains(sunset[0], "On 1 of 3 days."));
    CHECK(contains(sunset[0], "Flat horizon"));
    const auto json = fixture::Json::parse(sunset[1]);
    CHECK(json["find"] == "sunset at bearing 292..292.5");
    const auto& hit = json["places"][0]["found"][0];
    CHECK(hit["date"] == "2027-05-14");
    CHECK(hit["azimuth"].get<double>() >= 292.0);
    CHECK(hit["from_camera"].get<double>() == doctest::Approx(hit["azimuth"].get<double>() - 280.0));
    CHECK(contains(sunset[2], "arch,-35.210000,-8.470000,2027-05-14,sunset at bearing 292..292.5," +
                                  hit["at"].get<std::string>() + "," + hit["at"].get<std::string>() + ",292."));
    const auto dark = tell("dark-sky for 240 min");
    CHECK(contains(dark[0], "| Friday 2027-05-14 | 01:04–05:53 | 4 h 49 |"));
    const auto none = tell("sunset at bearing 10..20");
    CHECK(contains(none[0], "On none of 3 days."));
    CHECK(fixture::Json::parse(none[1])["places"][0]["found"].empty());
    CHECK(none[2].find('\n') == none[2].size() - 1);
}
