#pragma once
/// Spans of time between two instants, and lists of them.

#include "geo/units.hpp"

#include <vector>

namespace geo {

/// Closed span of time; `from <= until`.
struct Interval {
    Instant from;
    Instant until;

    friend constexpr bool operator==(const Interval&, const Interval&) = default;
    constexpr Seconds length() const { return until - from; }
};

/// Disjoint, in order of time.
using Intervals = std::vector<Interval>;

/// What of `list` lies inside `span`; pieces of no length are kept (a window of one instant is legal).
Intervals clip(const Intervals& list, Interval span);

/// What lies in both lists.
Intervals intersect(const Intervals& a, const Intervals& b);

/// What of `list` lies outside every span of `taken`; pieces of no length are left out.
Intervals without(const Intervals& list, const Intervals& taken);

/// Joins overlapping or touching spans of an unordered list.
Intervals join(Intervals list);

} // namespace geo
