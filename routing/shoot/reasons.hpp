#pragma once
/// Why a scene is not in the plan, in words a crew can act on. Found by re-solving small problems, not by guessing.

#include "routing/order/solve.hpp"
#include "routing/shoot/order_builder.hpp"
#include "routing/shoot/plan.hpp"
#include "routing/shoot/stop_points.hpp"

#include <chrono>
#include <optional>
#include <vector>

namespace routing::shoot {

struct ReasonInput {
    const Shoot& shoot;
    const OrderProblem& order;
    const order::Solution& solution;
    const StopPoints& points;
    order::TravelMatrix open_travel;                               ///< with every road open; empty when nothing is shut
    std::uint64_t labels;                                          ///< work allowed for each re-solve
    std::optional<std::chrono::steady_clock::time_point> deadline; ///< of all of them; a plain reason from then on
};

/// A reason for each visit in Solution::dropped, in that order. Tried in turn: no light in any day's working hours; no
/// road; can't be reached or left in time even alone; excluded by one kept scene; else what keeping it would cost.
std::vector<Dropped> explain_dropped(const ReasonInput& input);

} // namespace routing::shoot
