#pragma once
/// Absolute closeness with a unit on the tolerance; doctest's own Approx is relative.

#include "geo/units.hpp"

#include <chrono>
#include <cmath>

namespace support {

template <class Unit>
bool near(geo::Quantity<Unit> a, geo::Quantity<Unit> b, geo::Quantity<Unit> tolerance) {
    return std::abs(a.value - b.value) <= tolerance.value;
}

inline bool near(geo::Instant a, geo::Instant b, geo::Seconds tolerance) {
    return std::chrono::abs(a - b) <= tolerance;
}

} // namespace support
