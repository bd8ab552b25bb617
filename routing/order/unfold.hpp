#pragma once
/// The stops that a search's moves stand for.

#include "routing/order/part.hpp"
#include "routing/order/search.hpp"

#include <vector>

namespace routing::order {

/// Without times, for the days of the part alone, in order.
std::vector<Stop> unfold(const Instance& instance, const Part& part, const std::vector<Move>& moves);

} // namespace routing::order
