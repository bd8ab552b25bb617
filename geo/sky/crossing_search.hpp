#pragma once
/// Finds when a smooth value passes zero, and when it turns.
///
///     const auto crossings = geo::sky::find_crossings([&](PreciseInstant t) { return altitude(t) - limit; }, span);
///
/// Samples every hour (or another step), brackets changes of sign and closes in by TOMS 748; where three samples show a
/// turning point heading for zero, that point is found by Brent's method and tested, so that a pair of crossings within
/// an hour is not missed. Right for values that turn at most once a step, as altitudes of sun and moon do in an hour.
/// Samples stand on whole steps of the clock, so the same crossing comes out the same whatever span it is looked for
/// in. Sources: Alefeld, Potra and Shi, ACM TOMS 21:327 (1995); Brent, Algorithms for Minimization Without Derivatives
/// (1973).

#include "geo/sky/precise_instant.hpp"

#include <functional>
#include <vector>

namespace geo::sky {

struct PreciseSpan {
    PreciseInstant from;
    PreciseInstant until;
};

struct Crossing {
    PreciseInstant when; ///< within a millisecond
    bool rising = false; ///< from negative to zero or more
};

using ValueOverTime = std::function<double(PreciseInstant)>;

inline constexpr PreciseSeconds hourly{3600.0};
inline constexpr PreciseSeconds five_minutes{300.0};

/// A value at equal steps, from before a span to after it.
struct Samples {
    PreciseInstant first;
    PreciseSeconds step;
    std::vector<double> values;
};
Samples take_samples(const ValueOverTime& value, PreciseSpan span, PreciseSeconds step = hourly);

/// In order of time, those within the closed span.
std::vector<Crossing> find_crossings(const ValueOverTime& value, PreciseSpan span, PreciseSeconds step = hourly);
/// The same from samples already taken over the span.
std::vector<Crossing> find_crossings(const ValueOverTime& value, const Samples& samples, PreciseSpan span);

/// Highest and lowest points in order of time, those within the closed span.
std::vector<PreciseInstant> find_turning_points(const ValueOverTime& value, PreciseSpan span,
                                                PreciseSeconds step = hourly);
std::vector<PreciseInstant> find_turning_points(const ValueOverTime& value, const Samples& samples, PreciseSpan span);

} // namespace geo::sky
