#include "geo/terrain/direct_sun.hpp"

#include "geo/sky/observer.hpp"
#include "geo/sky/refraction.hpp"
#include "geo/sky/sun.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace geo::terrain {

namespace {

using sky::PreciseInstant;
using sky::PreciseSeconds;

constexpr double radians_per_degree = std::numbers::pi / 180.0;

/// The part of the sky a disc's centre may stand in.
struct SkyCap {
    DiscSight middle;
    Degrees radius;

    Degrees half_azimuth() const {
        const double cosine = std::cos(middle.centre.altitude.value * radians_per_degree);
        const double sine = std::sin(radius.value * radians_per_degree);
        // A cap with the zenith in it has every azimuth.
        if (sine >= cosine)
            return {180.0};
        return {std::asin(sine / cosine) / radians_per_degree};
    }
};

enum class Answer { yes, no, either };

/// Whether something holds of one place in the sky, and of all or none in a cap.
struct Condition {
    std::function<bool(const DiscSight&)> holds;
    std::function<Answer(const SkyCap&)> holds_within;
};

Degrees apparent(Degrees true_altitude) {
    return true_altitude + sky::refraction_from_true(true_altitude);
}

Condition is_above_terrain(const HorizonProfile& horizon) {
    return {[&horizon](const DiscSight& disc) {
                return apparent(disc.centre.altitude + disc.semidiameter) > horizon.angle(disc.centre.azimuth);
            },
            [&horizon](const SkyCap& cap) {
                const auto [lowest, highest] =
                    horizon.lowest_and_highest(cap.middle.centre.azimuth, cap.half_azimuth());
                const Degrees limb = cap.middle.centre.altitude + cap.middle.semidiameter;
                // Refraction falls slower than altitude grows, so apparent altitude grows with the true one.
                if (apparent(limb - cap.radius) > highest)
                    return Answer::yes;
                return apparent(limb + cap.radius) <= lowest ? Answer::no : Answer::either;
            }};
}

/// The flat horizon of sunrise and sunset: 34' of refraction (Astronomical Almanac).
constexpr Degrees horizon_refraction{34.0 / 60.0};

Condition is_above_flat_horizon() {
    const auto height = [](const DiscSight& disc) {
        return disc.centre.altitude + disc.semidiameter + horizon_refraction;
    };
    return {[height](const DiscSight& disc) { return height(disc) > Degrees{0.0}; },
            [height](const SkyCap& cap) {
                if (height(cap.middle) - cap.radius > Degrees{0.0})
                    return Answer::yes;
                return height(cap.middle) + cap.radius <= Degrees{0.0} ? Answer::no : Answer::either;
            }};
}

Condition is_over_unknown_ground(const HorizonProfile& horizon) {
    const Metres range = horizon.settings().range;
    const auto unknown = [&horizon, range](Degrees azimuth) { return horizon.known_to(azimuth) < range; };
    return {[unknown](const DiscSight& disc) { return unknown(disc.centre.azimuth); },
            [unknown](const SkyCap& cap) {
                const double step = 360.0 / HorizonProfile::azimuths;
                const double from = cap.middle.centre.azimuth.value - cap.half_azimuth().value;
                const double until = cap.middle.centre.azimuth.value + cap.half_azimuth().value;
                bool any = false;
                bool all = true;
                // Between two azimuths the answer is one, so a look at the middle of each stretch tells all.
                for (double at = std::floor(from / step); at * step <= until; at += 1.0) {
                    const bool here = unknown({(at + 0.5) * step});
                    any = any || here;
                    all = all && here;
                }
                if (all)
                    return Answer::yes;
                return any ? Answer::either : Answer::no;
            }};
}

/// Branch and bound over time.
class SpanSearch {
public:
    SpanSearch(const DiscPath& disc, const Condition& condition) : disc_(disc), condition_(condition) {}

    Intervals within(Interval span) {
        // A cap as wide as an hour's way is the largest worth asking about.
        constexpr std::int64_t hour = 3600;
        for (std::int64_t from = seconds(span.from); from < seconds(span.until); from += hour)
            search(from, std::min(from + hour, seconds(span.until)));
        return join(std::move(found_));
    }

private:
    static std::int64_t seconds(Instant when) { return when.time_since_epoch().count(); }
    static Instant instant(std::int64_t seconds) { return Instant{Seconds{seconds}}; }

    /// Whole seconds: plans count in them.
    void search(std::int64_t from, std::int64_t until) {
        constexpr double degrees_per_second = 15.3 / 3600.0;
        const double middle = 0.5 * static_cast<double>(from + until);
        const DiscSight sight = disc_(PreciseInstant{PreciseSeconds{middle}});
        Answer answer = Answer::either;
        if (until - from <= 1)
            answer = condition_.holds(sight) ? Answer::yes : Answer::no;
        else
            answer = condition_.holds_within({sight, {0.5 * static_cast<double>(until - from) * degrees_per_second}});
        if (answer == Answer::yes)
            found_.push_back({instant(from), instant(until)});
        if (answer != Answer::either)
            return;
        const std::int64_t half = from + (until - from) / 2;
        search(from, half);
        search(half, until);
    }

    const DiscPath& disc_;
    const Condition& condition_;
    Intervals found_;
};

Intervals spans_with(const DiscPath& disc, const Condition& condition, Interval span) {
    return SpanSearch(disc, condition).within(span);
}

} // namespace

DiscPath sun_path(Coordinate place, Metres elevation) {
    return [observer = sky::Observer(place, elevation)](PreciseInstant when) {
        const sky::CelestialVector sun = sky::sun_vector(when);
        return DiscSight{observer.view(sun, when), sky::sun_semidiameter(sun)};
    };
}

Intervals above_terrain(const DiscPath& disc, const HorizonProfile& horizon, Interval span) {
    return spans_with(disc, is_above_terrain(horizon), span);
}

TerrainSun direct_sun(const DiscPath& sun, const HorizonProfile& horizon, Interval span) {
    TerrainSun result;
    result.direct = above_terrain(sun, horizon, span);
    result.open_shade = without(spans_with(sun, is_above_flat_horizon(), span), result.direct);
    if (horizon.known_all_round() < horizon.settings().range) {
        const Condition unknown = is_over_unknown_ground(horizon);
        for (const Interval& direct : result.direct)
            for (const Interval& uncertain : spans_with(sun, unknown, direct))
                result.uncertain.push_back(uncertain);
    }
    return result;
}

TerrainSun direct_sun(Coordinate place, const HorizonProfile& horizon, Interval span) {
    return direct_sun(sun_path(place, horizon.eye_elevation()), horizon, span);
}

} // namespace geo::terrain
