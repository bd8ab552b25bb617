#include "cli/light_picture_sky.hpp"

#include "geo/light_window.hpp"
#include "geo/sky/refraction.hpp"

#include <algorithm>
#include <array>
#include <cassert>

namespace cli {

namespace {

using geo::Degrees;
using geo::Interval;
using namespace std::chrono_literals;

constexpr geo::Metres sea_level{0.0};
constexpr auto path_step = 3min;

/// Lines at which the light's names change, with what lies above each. Limits: light_name.cpp; twilights: Astronomical
/// Almanac.
struct BandLine {
    geo::sky::SunLine line;
    Fill above;
};
const std::array<BandLine, 8>& band_lines() {
    static const std::array<BandLine, 8> lines{{{Degrees{-18.0}, Fill::astronomical},
                                                {Degrees{-12.0}, Fill::nautical},
                                                {Degrees{-6.0}, Fill::blue},
                                                {Degrees{-4.0}, Fill::golden_down},
                                                {geo::sky::HorizonRule::upper_limb, Fill::golden_up},
                                                {Degrees{6.0}, Fill::low_sun},
                                                {Degrees{20.0}, Fill::day},
                                                {Degrees{45.0}, Fill::high_sun}}};
    return lines;
}

Fill fill_at(const geo::sky::SunView& sun, geo::sky::PreciseInstant when) {
    Fill fill = Fill::night;
    for (const BandLine& line : band_lines())
        if (sun.height_above(line.line, when).value > 0.0)
            fill = line.above;
    return fill;
}

std::vector<SkyBand> bands_of(geo::Coordinate place, Interval civil) {
    geo::PlaceSky sky(place, sea_level, civil);
    std::vector<geo::Instant> changes{civil.from, civil.until};
    for (const BandLine& line : band_lines())
        for (const auto crossing : sky.sun_crossings(line.line))
            changes.push_back(std::clamp(geo::sky::rounded(crossing), civil.from, civil.until));
    std::sort(changes.begin(), changes.end());
    std::vector<SkyBand> bands;
    for (std::size_t n = 1; n < changes.size(); ++n) {
        const Interval span{changes[n - 1], changes[n]};
        if (span.length() == 0s)
            continue;
        const Fill fill =
            fill_at(sky.sun(), geo::sky::precise(span.from) + geo::sky::PreciseSeconds(span.length()) / 2);
        if (!bands.empty() && bands.back().fill == fill)
            bands.back().span.until = span.until;
        else
            bands.push_back({span, fill});
    }
    return bands;
}

PathPoint point_at(const SkyPath& path, geo::Instant when, bool seen) {
    auto at = path.at(when);
    at.altitude += geo::sky::refraction_from_true(at.altitude);
    return {when, at, seen};
}

BodyDay body_day(const SkyPath& path, Interval civil) {
    BodyDay day;
    const Interval span{civil.from - geo::window_margin, civil.until + geo::window_margin};
    std::vector<geo::Instant> instants{civil.until};
    for (geo::Instant when = civil.from; when < civil.until; when += path_step)
        instants.push_back(when);
    for (const Interval& sight : path.seen(span)) {
        if (sight.from >= civil.until || sight.until <= civil.from)
            continue;
        day.seen.push_back(sight);
        if (sight.from >= civil.from)
            day.appears.push_back(point_at(path, sight.from, true));
        if (sight.until < civil.until)
            day.goes.push_back(point_at(path, sight.until, true));
        for (const geo::Instant end : {sight.from, sight.until})
            if (end > civil.from && end < civil.until)
                instants.push_back(end);
    }
    std::sort(instants.begin(), instants.end());
    for (const geo::Instant when : instants) {
        const bool seen = std::any_of(day.seen.begin(), day.seen.end(), [when](const Interval& sight) {
            return sight.from <= when && when <= sight.until;
        });
        day.path.push_back(point_at(path, when, seen));
    }
    return day;
}

} // namespace

PictureSky picture_sky(const LightPlace& place, geo::CivilDate day, const geo::TimeZone& zone) {
    const Interval civil = geo::civil_day(day, zone);
    if (civil.length() == 0s)
        return {civil, {}, {}, {}};
    return {civil, bands_of(place.at, civil), body_day(SkyPath(SkyBody::sun, place.at, place.horizon), civil),
            body_day(SkyPath(SkyBody::moon, place.at, place.horizon), civil)};
}

std::string band_words(Fill fill) {
    switch (fill) {
    case Fill::night:
        return "night";
    case Fill::astronomical:
        return "astronomical twilight";
    case Fill::nautical:
        return "nautical twilight";
    case Fill::blue:
        return "blue";
    case Fill::golden_down:
        return "golden, sun down";
    case Fill::golden_up:
        return "golden, sun up";
    case Fill::low_sun:
        return "low-sun";
    case Fill::day:
        return "day";
    case Fill::high_sun:
        return "high-sun";
    case Fill::soft:
    case Fill::dark_sky:
    case Fill::moonlight:
    case Fill::sunlit:
    case Fill::behind_ground:
    case Fill::below_horizon:
        break;
    }
    assert(false);
    return "";
}

} // namespace cli
