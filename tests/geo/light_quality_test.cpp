#include "geo/light_quality.hpp"

#include "geo/light_rule.hpp"
#include "geo/sky/sun.hpp"
#include "tests/geo/utc.hpp"
#include "tests/support/near.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <sstream>
#include <string>

using geo::CivilDate;
using geo::Coordinate;
using geo::Degrees;
using geo::Instant;
using geo::Interval;
using geo::Intervals;
using geo::LightName;
using geo::LightRequest;
using geo::LightWish;
using geo::QualityCurve;
using namespace geo::literals;
using namespace std::chrono_literals;

namespace {

const Coordinate place{62_deg, -7_deg};

Intervals windows(const LightRequest& request, const char* day) {
    return geo::light_windows(request, place, 0_m, *geo::parse_date(day), *geo::find_time_zone("UTC")).intervals;
}

} // namespace

TEST_CASE("every curve rises in altitude, stays within 0 and 1 and is printed in the docs") {
    std::ifstream page(std::string(DAYWEAVE_SOURCE_DIR) + "/docs/light.md");
    std::stringstream text;
    text << page.rdbuf();
    for (const LightName name : geo::light_names()) {
        const QualityCurve& curve = geo::quality_curve(name);
        std::string printed;
        for (std::size_t i = 0; i < curve.size(); ++i) {
            CHECK(curve[i].quality >= 0.0);
            CHECK(curve[i].quality <= 1.0);
            CHECK((i == 0 || curve[i - 1].sun_altitude < curve[i].sun_altitude));
            std::ostringstream point;
            point << curve[i].sun_altitude.value << ": " << curve[i].quality;
            printed += (i == 0 ? "" : ", ") + point.str();
        }
        if (curve.empty())
            continue;
        CHECK(std::any_of(curve.begin(), curve.end(), [](const auto& point) { return point.quality == 1.0; }));
        CAPTURE(geo::to_string(name));
        CHECK_MESSAGE(text.str().find("| " + printed + " |") != std::string::npos, printed);
    }
}

TEST_CASE("a curve runs straight between its points and level beyond them") {
    const QualityCurve curve{{-4_deg, 0.4}, {0_deg, 1.0}, {6_deg, 0.5}};
    CHECK(geo::curve_value(curve, -10_deg) == 0.4);
    CHECK(geo::curve_value(curve, -4_deg) == 0.4);
    CHECK(std::abs(geo::curve_value(curve, -2_deg) - 0.7) < 1e-12);
    CHECK(geo::curve_value(curve, 0_deg) == 1.0);
    CHECK(std::abs(geo::curve_value(curve, 3_deg) - 0.75) < 1e-12);
    CHECK(geo::curve_value(curve, 60_deg) == 0.5);
    CHECK(geo::curve_value({}, 60_deg) == 1.0);
}

TEST_CASE("quality is there inside a light's windows and nowhere else") {
    for (const char* day : {"2026-03-20", "2026-06-21", "2026-10-01", "2026-11-24"})
        for (const LightName name : geo::light_names()) {
            if (geo::needs_terrain(name) || name == LightName::any)
                continue;
            const auto spans = windows(name, day);
            const Interval civil = geo::civil_day(*geo::parse_date(day), *geo::find_time_zone("UTC"));
            for (Instant t = civil.from; t < civil.until; t += 7min) {
                const bool inside = std::any_of(spans.begin(), spans.end(),
                                                [&](const Interval& s) { return s.from <= t && t <= s.until; });
                const bool edge = std::any_of(spans.begin(), spans.end(), [&](const Interval& s) {
                    return support::near(s.from, t, 20s) || support::near(s.until, t, 20s);
                });
                if (edge)
                    continue;
                CAPTURE(day);
                CAPTURE(geo::to_string(name));
                CAPTURE(t.time_since_epoch().count());
                const double quality = geo::light_quality({name}, place, 0_m, t);
                CHECK(quality <= 1.0);
                // dark-sky falls to 0 under a bright moon only, which ends its window; moonlight never quite.
                CHECK((quality > 0.0) == inside);
            }
        }
}

TEST_CASE("a least quality narrows the window to where the curve reaches it") {
    // The golden curve passes 0.8 at -1 degrees and, from 1 at 3 to 0.5 at 6, again at 4.2.
    const auto whole = windows(LightName::golden_evening, "2026-09-04");
    const auto good = windows(LightWish{.name = LightName::golden_evening, .min_quality = 0.8}, "2026-09-04");
    REQUIRE(whole.size() == 1);
    REQUIRE(good.size() == 1);
    const auto range = windows(geo::SunAltitudeRange{-1_deg, 4.2_deg, geo::HalfDay::evening}, "2026-09-04");
    CHECK(support::near(good[0].from, range.at(0).from, 1s));
    CHECK(support::near(good[0].until, range.at(0).until, 1s));
    // A level stretch at the wished quality belongs to it; what is never reached leaves nothing.
    const auto best = windows(LightWish{.name = LightName::golden_evening, .min_quality = 1.0}, "2026-09-04");
    const auto level = windows(geo::SunAltitudeRange{0_deg, 3_deg, geo::HalfDay::evening}, "2026-09-04");
    REQUIRE(best.size() == 1);
    CHECK(support::near(best[0].from, level.at(0).from, 1s));
    CHECK(support::near(best[0].until, level.at(0).until, 1s));
    const LightWish never{.name = LightName::golden_evening, .quality = QualityCurve{{0_deg, 0.3}}, .min_quality = 0.4};
    CHECK(windows(never, "2026-09-04").empty());
    // One's own curve, with a peak so narrow that it lies between two looks.
    const LightWish peak{.name = LightName::golden_evening,
                         .quality = QualityCurve{{1.9_deg, 0.0}, {2_deg, 1.0}, {2.1_deg, 0.0}},
                         .min_quality = 0.9};
    const auto found = windows(peak, "2026-09-04");
    REQUIRE(found.size() == 1);
    CHECK(found[0].length() < 30s);
    CHECK(support::near(geo::sky::sun_position(place, 0_m, found[0].from).altitude, 2_deg, 0.02_deg));
}

TEST_CASE("the best minute, the best start and the price of a late one follow the curve") {
    const std::vector<LightRequest> golden{LightName::golden_evening};
    const Interval window = windows(LightName::golden_evening, "2026-09-04").at(0);
    const auto best = geo::best_minute(golden, place, 0_m, window);
    CHECK(best.quality == doctest::Approx(1.0));
    const auto altitude = geo::sky::sun_position(place, 0_m, best.when).altitude;
    CHECK(altitude <= 3_deg);
    CHECK(altitude > 2.8_deg); // the first of equals
    // Brute force over the same minutes.
    const auto start = geo::best_start(golden, place, 0_m, window, 40min);
    for (Instant t = window.from; t + 40min <= window.until; t += 1min)
        CHECK(geo::mean_quality(golden, place, 0_m, {t, t + 40min}) <= start.quality + 1e-8);
    CHECK(geo::mean_quality(golden, place, 0_m, {start.when, start.when + 40min}) == start.quality);
    CHECK(start.quality > geo::mean_quality(golden, place, 0_m, window));
    // Late: by what the mean falls; past the window's end everything is lost.
    const Interval filming{start.when, start.when + 40min};
    CHECK(geo::lost_by_late_start(golden, place, 0_m, filming, 0s) == 0.0);
    double before = 0.0;
    for (const auto late : {10min, 20min, 30min}) {
        const double lost = geo::lost_by_late_start(golden, place, 0_m, filming, late);
        CHECK(lost > before);
        before = lost;
    }
    CHECK(geo::lost_by_late_start(golden, place, 0_m, filming, 5h) == doctest::Approx(start.quality));
    // Too short a window: its start.
    CHECK(geo::best_start(golden, place, 0_m, {window.from, window.from + 5min}, 40min).when == window.from);
    CHECK(geo::mean_quality(golden, place, 0_m, {best.when, best.when}) == best.quality);
}

TEST_CASE("of several lights the best one counts") {
    const Interval golden = windows(LightName::golden_evening, "2026-09-04").at(0);
    const Interval blue = windows(LightName::blue_evening, "2026-09-04").at(0);
    const std::vector<LightRequest> both{LightName::golden_evening, LightName::blue_evening};
    for (Instant t = golden.from; t <= blue.until; t += 3min)
        CHECK(geo::light_quality(both, place, 0_m, t) ==
              std::max(geo::light_quality({LightName::golden_evening}, place, 0_m, t),
                       geo::light_quality({LightName::blue_evening}, place, 0_m, t)));
}

TEST_CASE("moonlight is better under a fuller and higher moon, a dark sky under a thinner one") {
    // 2026: full moon on 24 November, new on 9 November.
    const auto at = [&](LightName name, const char* when) {
        return geo::light_quality({name}, place, 0_m, support::utc(when));
    };
    CHECK(at(LightName::moonlight, "2026-11-24T23:00:00Z") > 0.95);
    CHECK(at(LightName::moonlight, "2026-11-28T23:00:00Z") < at(LightName::moonlight, "2026-11-24T23:00:00Z"));
    CHECK(at(LightName::moonlight, "2026-11-09T23:00:00Z") == 0.0);
    CHECK(at(LightName::dark_sky, "2026-11-09T23:00:00Z") == 1.0);
    CHECK(at(LightName::dark_sky, "2026-11-24T23:00:00Z") == 0.0);
}
