#pragma once
/// The day as it really goes: keep what is past, take in what changed, solve the rest again, and say what to do now.

#include "routing/shoot/planner.hpp"

namespace routing::shoot {

struct Changes {
    Instant now{};
    std::optional<geo::Coordinate> at{}; ///< where the crew is; else at the stop the plan puts them at `now`
    minutes late{0};                     ///< whatever the crew is at takes this much longer than planned
    std::vector<roads::Closure> closures{};
    std::vector<std::string> done{}; ///< scene ids already in the can
    std::vector<std::string> drop{}; ///< scene ids given up by the crew
    std::string sky{}; ///< of the rest of the running day; empty: as the plan has it; "any": not known any more
};

/// A stop before and after; one of the times is missing for a stop that went or came.
struct ChangeRow {
    std::uint32_t day = 0;
    std::string name{}; ///< "salt road at the old mill"
    std::optional<Instant> old_start{};
    std::optional<Instant> new_start{};
    std::string note{}; ///< "dropped: ...", "now at the Grey Heron"
};

struct Replan {
    Plan plan{};
    std::string now_line{}; ///< "Leave by 14:20 for the mill (38 min); filming starts 15:05."
    std::vector<ChangeRow> rows{};
};

/// Throws geo::InputError for an unknown scene id, a time outside the shoot's days, a closure that matches nothing.
Replan replan(const Shoot& shoot, const Region& region, const Plan& old_plan, const Changes& changes,
              const PlanSettings& settings);

} // namespace routing::shoot
