#pragma once
/// A bound on the worth of plans of several days, from prices of visits.
///
/// Days are planned apart, each the best for itself, as if nights could be spent anywhere and no turnaround held. A
/// visit done on a day brings its worth less its price, and prices are paid back once: any prices bound the worth of
/// all plans. Those of visits that several days take rise, those of visits no day takes fall, step by step (Lagrangian
/// relaxation by subgradient: Held, Wolfe and Crowder 1974, from memory). A must is paid for being done instead.
///
/// A visit that brings nothing is left out of a day's search where legs allow going straight (the triangle inequality
/// is looked at, not assumed); of meals at a place one a day stays due then.
///
/// Cost of a step: a search over each day. Weak where turnaround or the way between days is what leaves visits out.

#include "routing/order/detours.hpp"
#include "routing/order/search.hpp"

#include <cstdint>
#include <optional>

namespace routing::order {

struct WorthBound {
    std::optional<std::int64_t> worth; ///< no plan that does these musts and misses no meal has more; nothing in time
    std::uint64_t labels = 0;
};

/// Of plans that do every must that some day allows. `done`: the visits of the best plan at hand; steps end where
/// nothing can be better.
WorthBound bound_worth(const Instance& instance, Detours& detours, VisitSet done, const SearchLimits& limits);

} // namespace routing::order
