#pragma once
/// Where a plan stands at a given time: what is past, what the crew is at, where they are and when they can go on.

#include "routing/shoot/plan.hpp"
#include "routing/shoot/replan.hpp"

#include <optional>
#include <set>
#include <string>
#include <vector>

namespace routing::shoot {

struct Progress {
    std::uint32_t day = 0;           ///< first day that is not over
    bool called = false;             ///< that day's crew has left its start
    std::vector<PlanStop> past;      ///< stops of that day that stay, the one in progress last, with its new end
    bool in_progress = false;        ///< the last past stop is being worked on
    Seconds pack{0};                 ///< packing still needed before leaving from here
    std::optional<Leg> driven;       ///< the way here since the last past stop, as far as it is known
    bool set_up = false;             ///< standing set up (or setting up) at the next scene's location
    std::optional<PlanStop> reached; ///< the next stop of the plan, when the crew stands there already, waiting
    Instant set_up_ready;            ///< with `set_up`: filming can start from here on
    geo::Coordinate here;
    std::optional<geo::Coordinate> van; ///< where the van stands, when the plan tells
    std::string here_text;              ///< "at the mill", "on the road to the mill (reckoned from the plan)"
    Instant free_from;                  ///< earliest departure from here
    std::set<std::string> meals_done;   ///< of that day
    std::set<std::string> scenes_done;  ///< of all days so far, the scene in progress included
};

/// Rules: a stop that ends by `now` is past. A stop that `now` falls into is being worked on, and takes `late` longer,
/// unless `at` is elsewhere. Between stops the crew is at `at`, else as far along the leg as the plan has them.
/// A scene named in `done` is in the can whatever the plan says. A scene named in `drop` that is being worked on is
/// broken off now. Throws geo::InputError for a time before or after all days of the plan.
Progress reckon_progress(const Shoot& shoot, const Plan& plan, const Changes& changes);

} // namespace routing::shoot
