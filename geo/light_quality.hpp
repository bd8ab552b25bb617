#pragma once
/// How good a light is over time, so that the best minutes can be preferred and a late start has its price.
///
///     const auto best = geo::best_start({request}, arch, 0_m, window, 45min);
///     const double lost = geo::lost_by_late_start({request}, arch, 0_m, filming, 10min);
///
/// Quality runs from 0 (not that light) to 1, by the curves of docs/light.md; of several lights the best one counts.
/// Clock times and terrain are not looked at: windows have them already.

#include "geo/light_window.hpp"

#include <vector>

namespace geo {

double light_quality(const std::vector<LightRequest>& any_of, Coordinate place, Metres elevation, Instant when);

/// Over the whole span; by the minute.
double mean_quality(const std::vector<LightRequest>& any_of, Coordinate place, Metres elevation, Interval span);

struct BestTime {
    Instant when;
    double quality = 0.0;
};

/// The minute of the window (counted from its start) with the best light, the first of equals.
BestTime best_minute(const std::vector<LightRequest>& any_of, Coordinate place, Metres elevation, Interval window);

/// When to start something of that length inside the window so that its mean quality is best, by the minute; the
/// window's start when it is too short. The first of equals.
BestTime best_start(const std::vector<LightRequest>& any_of, Coordinate place, Metres elevation, Interval window,
                    Seconds length);

/// By how much the mean quality of filming falls when it starts so much later and takes as long; below 0 when later is
/// better.
double lost_by_late_start(const std::vector<LightRequest>& any_of, Coordinate place, Metres elevation, Interval filming,
                          Seconds late);

} // namespace geo
