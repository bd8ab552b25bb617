#pragma once
/// Turns travel known as a function of the hour of departure into the passages a Problem asks for.
///
///     problem.varying = varying_legs(problem.travel, unsettled, travel_at, {first_call, last_wrap});

#include "geo/interval.hpp"
#include "routing/order/problem.hpp"

#include <cstdint>
#include <functional>
#include <vector>

namespace routing::order {

/// Travel seconds when leaving `from` at `departure`; `TravelMatrix::unreachable` where there is no way, then or later.
/// Who leaves later arrives no earlier.
using TravelAt = std::function<std::int32_t(Point from, Point to, Instant departure)>;
/// Departures, ends excluded, at which a leg may take other than the matrix says; none for most legs. In order of time.
using UnsettledDepartures = std::function<geo::Intervals(Point from, Point to)>;

/// The passages of one leg, in order of time: each a longest span of departures that take equally long. Spans in which
/// leaving later arrives at the same time have no passage: the crew waits where it is. Before and after `hours` it is
/// as at their beginning and end.
///
/// Asks for the travel every `step` inside `hours` where `unsettled`, and, where it differs between two of these,
/// exactly where it changes. Exact with a step of one second. With a longer one it may miss a change that is undone
/// within a step: a crew leaving then arrives less than `step` from when it is told, since who leaves later arrives no
/// earlier. Cost: unsettled time / step calls, and some log2(step) for each change.
std::vector<Passage> passages(const std::function<std::int32_t(Instant departure)>& travel,
                              const geo::Intervals& unsettled, TimeWindow hours, Seconds step = Seconds{60});

/// The varying legs of a whole problem: of the pairs with unsettled departures those whose travel does not stay what
/// `travel` says. A pair without a way in `travel` has none.
std::vector<VaryingLeg> varying_legs(const TravelMatrix& travel, const UnsettledDepartures& unsettled,
                                     const TravelAt& travel_at, TimeWindow hours, Seconds step = Seconds{60});

} // namespace routing::order
