#pragma once
/// From the crew's words to the pure ordering problem, and the table to read the answer back by.

#include "routing/order/problem.hpp"
#include "routing/shoot/shoot.hpp"
#include "routing/shoot/stop_points.hpp"

#include <optional>
#include <set>
#include <string>
#include <vector>

namespace routing::shoot {

/// A shoot that is already running: what is left of it, seen from here and now.
struct Running {
    std::uint32_t first_day = 0;      ///< days before are past
    order::Point start = 0;           ///< where the crew is
    Instant free_from;                ///< when it can leave from there
    std::optional<Instant> called_at; ///< unset: the first day has not been called yet
    bool set_up = false;              ///< standing set up at `start`
    Seconds pack{0};                  ///< still needed before leaving from there
    Instant set_up_ready;             ///< with `set_up`: filming there can't start before
    std::set<std::string> meals_done; ///< of the first day, by name
    std::vector<bool> scenes_out;     ///< by scene: in the can, or given up
};

struct DarkWalks {
    Seconds more_in{0};
    Seconds more_out{0};
};

struct OrderProblem {
    order::Problem problem;
    std::vector<std::uint32_t> scene_of_visit;
    std::vector<std::vector<std::uint32_t>> option_of_visit; ///< [visit][solver's option] -> option of the scene
    /// [visit][solver's option] -> of its set-up and packing, what walks in darkness take longer than by day.
    std::vector<std::vector<DarkWalks>> dark_walks_of_visit;
    /// [visit]: why starts in its light are left out, in words; empty where none are.
    std::vector<std::string> left_out;
    std::vector<std::uint32_t> day_of;               ///< solver's day -> day of the shoot
    std::vector<std::vector<std::uint32_t>> meal_of; ///< [solver's day][meal] -> meal of the shoot
};

/// Scenes without a window on any day stay in the problem with no option window, so that they come back as dropped.
OrderProblem build_order_problem(const Shoot& shoot, const Region& region, const StopPoints& points,
                                 order::TravelMatrix travel, const std::optional<Running>& running);

} // namespace routing::shoot
