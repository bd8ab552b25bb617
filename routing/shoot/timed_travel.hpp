#pragma once
/// Travel between the stops of a plan while roads are shut for a time.
///
///     TimedTravel timed(region, roads_open, shut, points);
///     problem.varying = timed.varying_legs(problem.travel, hours);
///     const auto path = timed.way(from, to, leaving);

#include "routing/order/passages.hpp"
#include "routing/roads/timed/timed_finder.hpp"
#include "routing/roads/timed/timed_legs.hpp"
#include "routing/shoot/closed_roads.hpp"
#include "routing/shoot/stop_points.hpp"

#include <optional>
#include <vector>

namespace routing::shoot {

/// Refers to region, metric and points. Does nothing, at no cost, when no road is shut for a time. Not for two threads
/// at once.
class TimedTravel {
public:
    /// The metric holds what is shut for the whole plan; it is as before when this is done.
    TimedTravel(const Region& region, roads::hierarchy::Metric& roads_open, const ClosedRoads& shut,
                const StopPoints& points);

    bool any() const { return legs_.has_value(); }
    /// False when roads on no leg to every stop may be told longer than they are, never shorter (see timed_legs.hpp).
    bool is_exact() const { return !any() || legs_->is_exact(); }

    /// The legs whose time depends on the hour, walks included, inside `hours`.
    std::vector<order::VaryingLeg> varying_legs(const order::TravelMatrix& travel, order::TimeWindow hours);
    /// The van's way between two points when it sets off (StopPoints::sets_off_at) at `departure`; only with any(),
    /// where there is one.
    roads::timed::TimedPath way(order::Point from, order::Point to, Instant departure);
    /// Roads of a way that are shut at some time, each with the times; those more than a day before or after are left
    /// out (a road with hours has some every day).
    std::vector<ShutRoad> shut_roads(const roads::timed::TimedPath& way, Instant departure) const;

private:
    bool is_only_eaten_at(order::Point point) const;
    std::int32_t travel_at(order::Point from, order::Point to, Instant departure);

    const Region& region_;
    const StopPoints& points_;
    roads::timed::ShutTimes shut_;
    std::optional<roads::timed::TimedLegs> legs_;
    std::optional<roads::timed::TimedFinder> finder_;
};

} // namespace routing::shoot
