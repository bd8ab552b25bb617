#pragma once
/// Instants to a fraction of a second, for searches; results are rounded to `geo::Instant` at the end.
///
///     const geo::sky::PreciseInstant t = geo::sky::precise(instant) + geo::sky::PreciseSeconds{0.25};

#include "geo/units.hpp"

#include <chrono>

namespace geo::sky {

using PreciseSeconds = std::chrono::duration<double>;
/// UTC; a double keeps about a microsecond in our century.
using PreciseInstant = std::chrono::time_point<std::chrono::system_clock, PreciseSeconds>;

constexpr PreciseInstant precise(Instant when) {
    return PreciseInstant{PreciseSeconds{static_cast<double>(when.time_since_epoch().count())}};
}

/// To the nearest second.
inline Instant rounded(PreciseInstant when) {
    return std::chrono::round<Seconds>(when);
}

} // namespace geo::sky
