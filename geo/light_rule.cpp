#include "geo/light_rule.hpp"

#include "geo/sky/moonlit_sky.hpp"

#include <algorithm>
#include <cmath>

namespace geo {

namespace {

using sky::PreciseInstant;
using sky::PreciseSeconds;
using sky::PreciseSpan;

/// At a window's ends, which stand on whole seconds.
constexpr Degrees tolerance{0.01};

MoonQuality moon_quality_of(LightName name) {
    if (name == LightName::moonlight)
        return MoonQuality::brighter_is_better;
    return name == LightName::dark_sky ? MoonQuality::darker_is_better : MoonQuality::none;
}

LightRule rule_of_name(LightName name, bool overcast) {
    const LightDefinition& row = light_definition(name);
    LightRule rule;
    rule.sun = overcast && row.overcast_band ? row.overcast_band : row.band;
    rule.moon = row.moon;
    rule.ground = row.ground;
    rule.curve = quality_curve(name);
    rule.moon_quality = moon_quality_of(name);
    return rule;
}

SunBand band_of(const SunAltitudeRange& range) {
    return {range.low, range.high, range.when};
}

struct RuleOf {
    bool overcast;

    LightRule operator()(LightName name) const { return rule_of_name(name, overcast); }
    LightRule operator()(const SunAltitudeRange& range) const {
        LightRule rule;
        rule.sun = band_of(range);
        return rule;
    }
    LightRule operator()(const ClockRange&) const { return {}; }
    LightRule operator()(const LightWish& wish) const {
        LightRule rule = rule_of_name(wish.name, overcast);
        if (wish.sun) {
            rule.sun = band_of(*wish.sun);
            // A name's half of the day stays, unless the wish has its own.
            const auto& named = light_definition(wish.name).band;
            if (!wish.sun->when && named)
                rule.sun->when = named->when;
        }
        if (wish.moon)
            rule.moon = wish.moon;
        rule.direction = wish.direction;
        if (wish.direction && !rule.sun) { // a direction alone speaks of a sun that is up
            rule.sun = light_definition(LightName::day).band;
            rule.ground = Ground::sun_clear;
        }
        if (wish.direction && std::holds_alternative<SunInFrame>(*wish.direction))
            rule.ground = Ground::sun_clear; // a sun that is hidden is in no picture
        if (wish.quality)
            rule.curve = *wish.quality;
        rule.min_quality = wish.min_quality;
        return rule;
    }
};

bool in_frame(const LightRule& rule) {
    return rule.direction && std::holds_alternative<SunInFrame>(*rule.direction);
}

double moon_lit(PreciseInstant when) {
    return sky::moon_illumination(when).fraction;
}

/// Positive inside; the moon's altitude counts, then how much is lit.
bool moon_holds(const MoonWish& wish, const PlaceSky& sky, PreciseInstant when, Degrees slack) {
    if (const auto* up = std::get_if<MoonUp>(&wish)) {
        const Degrees height =
            up->above ? sky.moon().altitude(when) - *up->above : sky.moon().height_above_horizon(when);
        if (!(height >= -slack))
            return false;
        const double lit = moon_lit(when);
        return lit >= up->lit_from && lit <= up->lit_until;
    }
    return sky.moon().height_above_horizon(when) <= slack || moon_lit(when) <= std::get<MoonAbsent>(wish).lit_allowed;
}

bool sun_holds(const SunBand& band, const sky::SunLook& sun, Degrees slack) {
    return sky::height_above(band.low, sun) >= -slack && sky::height_above(band.high, sun) <= slack;
}

bool is_climbing(const PlaceSky& sky, PreciseInstant when) {
    constexpr PreciseSeconds aside{30.0};
    return sky.sun().altitude(when + aside) > sky.sun().altitude(when - aside);
}

/// When anything the rule looks at passes one of its limits: between two of these it holds throughout or not at all.
PlaceSky::Instants cuts(const LightRule& rule, PlaceSky& sky, PreciseSpan span) {
    PlaceSky::Instants all{span.from, span.until};
    const auto add = [&](const PlaceSky::Instants& found) {
        for (const PreciseInstant when : found)
            if (when > span.from && when < span.until)
                all.push_back(when);
    };
    if (rule.sun) {
        add(sky.sun_crossings(rule.sun->low));
        add(sky.sun_crossings(rule.sun->high));
        if (rule.sun->when)
            add(sky.sun_turns());
    }
    if (rule.moon) {
        const auto* up = std::get_if<MoonUp>(&*rule.moon);
        add(up != nullptr && up->above ? sky.moon_crossings(*up->above) : sky.moonrises_and_sets());
        if (up == nullptr)
            add(sky.moon_lit_crossings(std::get<MoonAbsent>(*rule.moon).lit_allowed));
        else
            for (const double limit : {up->lit_from, up->lit_until})
                if (limit > 0.0 && limit < 1.0) // none beyond
                    add(sky.moon_lit_crossings(limit));
    }
    std::sort(all.begin(), all.end());
    return all;
}

/// What of `spans` has a value of zero or more. Looked at in steps of five minutes at most, for azimuth runs fast near
/// the zenith, and at both ends.
Intervals where_positive(const sky::ValueOverTime& value, const Intervals& spans) {
    Intervals found;
    for (const Interval& span : spans) {
        const PreciseSpan precise{sky::precise(span.from), sky::precise(span.until)};
        const double steps = std::max(1.0, std::ceil((precise.until - precise.from) / sky::five_minutes));
        sky::Samples samples{precise.from, (precise.until - precise.from) / steps, {}};
        for (int i = 0; i <= static_cast<int>(steps); ++i)
            samples.values.push_back(value(precise.from + i * samples.step));
        PlaceSky::Instants edges{precise.from};
        for (const sky::Crossing& crossing : sky::find_crossings(value, samples, precise))
            edges.push_back(crossing.when);
        edges.push_back(precise.until);
        for (std::size_t i = 1; i < edges.size(); ++i)
            if (value(edges[i - 1] + (edges[i] - edges[i - 1]) / 2.0) >= 0.0)
                found.push_back({sky::rounded(edges[i - 1]), sky::rounded(edges[i])});
    }
    return join(std::move(found));
}

/// Pieces between which the sun passes a bend of the curve, so that no peak hides between two looks.
Intervals cut_at_bends(const QualityCurve& curve, PlaceSky& sky, const Intervals& spans) {
    std::vector<Instant> bends;
    for (const QualityPoint& point : curve)
        for (const PreciseInstant when : sky.sun_crossings(point.sun_altitude))
            bends.push_back(sky::rounded(when));
    std::sort(bends.begin(), bends.end());
    Intervals pieces;
    for (const Interval& span : spans) {
        Instant from = span.from;
        for (const Instant bend : bends)
            if (bend > from && bend < span.until) {
                pieces.push_back({from, bend});
                from = bend;
            }
        pieces.push_back({from, span.until});
    }
    return pieces;
}

double moon_quality(MoonQuality kind, const PlaceSky& sky, PreciseInstant when) {
    if (kind == MoonQuality::none)
        return 1.0;
    const Degrees altitude = sky.moon().altitude(when);
    const auto light = sky::moon_illumination(when);
    if (kind == MoonQuality::darker_is_better)
        return std::clamp(1.0 - sky::sky_brightening(altitude, light.phase_angle).value, 0.0, 1.0);
    constexpr double full_from = 15.0; // degrees: lower, the air takes too much. Common practice, no source.
    return light.fraction * std::clamp((altitude.value + 5.0) / (full_from + 5.0), 0.0, 1.0);
}

} // namespace

LightRule light_rule(const LightRequest& request, bool overcast) {
    return std::visit(RuleOf{overcast}, request);
}

Intervals sun_and_moon_spans(const LightRule& rule, PlaceSky& sky, Interval span) {
    if (!rule.sun && !rule.moon)
        return {span};
    const auto edges = cuts(rule, sky, {sky::precise(span.from), sky::precise(span.until)});
    Intervals pieces;
    for (std::size_t i = 1; i < edges.size(); ++i) {
        const PreciseInstant from = edges[i - 1];
        const PreciseInstant until = edges[i];
        if (!(from < until))
            continue;
        const PreciseInstant middle = from + (until - from) / 2.0;
        if (rule.sun && !sun_holds(*rule.sun, sky.sun().look(middle), {0.0}))
            continue;
        if (rule.sun && rule.sun->when) {
            const bool climbs = sky.sun().altitude(until) > sky.sun().altitude(from);
            if (climbs != (*rule.sun->when == HalfDay::morning))
                continue;
        }
        if (!rule.moon || moon_holds(*rule.moon, sky, middle, {0.0}))
            pieces.push_back({sky::rounded(from), sky::rounded(until)});
    }
    return join(std::move(pieces));
}

Intervals narrowed(const LightRule& rule, PlaceSky& sky, const Intervals& spans) {
    Intervals found = spans;
    if (in_frame(rule))
        found = where_positive(
            [&](PreciseInstant t) { return sky.sun().height_above(sky::HorizonRule::upper_limb, t).value; }, found);
    if (rule.direction)
        found = where_positive([&](PreciseInstant t) { return margin(*rule.direction, sky.sun().position(t)); }, found);
    if (rule.min_quality > 0.0) {
        constexpr double rounding = 1e-9; // a level stretch of the curve at the wished quality counts
        found = where_positive([&](PreciseInstant t) { return quality(rule, sky, t) - rule.min_quality + rounding; },
                               cut_at_bends(rule.curve, sky, found));
    }
    return found;
}

double quality(const LightRule& rule, const PlaceSky& sky, PreciseInstant when) {
    const sky::SunLook sun = sky.sun().look(when);
    if (rule.sun) {
        if (!sun_holds(*rule.sun, sun, tolerance))
            return 0.0;
        if (rule.sun->when && is_climbing(sky, when) != (*rule.sun->when == HalfDay::morning))
            return 0.0;
    }
    if (rule.moon && !moon_holds(*rule.moon, sky, when, tolerance))
        return 0.0;
    constexpr double edge = -1e-4; // of the margin: 0.008 degrees
    if (rule.direction && margin(*rule.direction, sky.sun().position(when)) < edge)
        return 0.0;
    if (in_frame(rule) && sky::height_above(sky::HorizonRule::upper_limb, sun) < -tolerance)
        return 0.0;
    return curve_value(rule.curve, sun.altitude) * moon_quality(rule.moon_quality, sky, when);
}

double curve_value(const QualityCurve& curve, Degrees sun_altitude) {
    if (curve.empty())
        return 1.0;
    const auto after = std::find_if(curve.begin(), curve.end(),
                                    [&](const QualityPoint& point) { return point.sun_altitude >= sun_altitude; });
    if (after == curve.begin())
        return curve.front().quality;
    if (after == curve.end())
        return curve.back().quality;
    const QualityPoint& before = *std::prev(after);
    const double share = (sun_altitude - before.sun_altitude).value / (after->sun_altitude - before.sun_altitude).value;
    return before.quality + share * (after->quality - before.quality);
}

} // namespace geo
