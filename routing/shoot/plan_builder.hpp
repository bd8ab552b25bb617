#pragma once
/// Puts the ordering's answer back into the crew's words: stops with names and light, legs with roads and lines.

#include "routing/order/solve.hpp"
#include "routing/shoot/order_builder.hpp"
#include "routing/shoot/plan.hpp"
#include "routing/shoot/stop_points.hpp"
#include "routing/shoot/timed_travel.hpp"

namespace routing::shoot {

/// All that went into a solution.
struct SolvedShoot {
    const Shoot& shoot;
    const Region& region;
    const StopPoints& points;
    const OrderProblem& order;
    const order::Solution& solution;
    const roads::hierarchy::Metric& roads_open; ///< times on the roads that are not shut for the whole plan
    TimedTravel& timed;                         ///< and while roads are shut for a time
};

/// One PlanDay for each day of the problem, in order; days without a stop included.
std::vector<PlanDay> build_days(const SolvedShoot& solved);

/// Call, wrap and totals of a day from its stops.
void add_totals(PlanDay& day);

/// "lunch 11:30–14:00 on 2027-05-14: no place could be fitted in; carry food" for each missed meal.
std::vector<std::string> missed_meal_warnings(const SolvedShoot& solved);

} // namespace routing::shoot
