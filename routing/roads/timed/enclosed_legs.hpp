#pragma once
/// Travel times of many legs at any hour, under closures in force for a time; searched for only where they can differ.
///
///     const auto open_times = table.times(stops, stops);
///     metric.shut(shut.edges_ever_shut());
///     const auto shut_times = table.times(stops, stops);
///     metric.reopen();
///     EnclosedLegs legs(finder, stops, stops, open_times, shut_times);
///     const Milliseconds time = legs.time(3, 5, departure);
///
/// With all of these roads open all along, and with all of them shut all along: the two enclose every leg at every
/// hour, so where they agree the leg is settled. Of the rest, a departure is settled by the quickest way on open roads
/// when that needs no wait, and by the way round when every road stays shut for as long as that takes.

#include "routing/roads/timed/timed_finder.hpp"

#include <cstddef>
#include <map>
#include <optional>
#include <utility>
#include <vector>

namespace routing::roads::timed {

/// Refers to the finder, whose closures must stay as they are. Remembers what it was asked. Not for two threads at
/// once.
class EnclosedLegs {
public:
    /// Tables row by row, as TravelTable::times gives them.
    EnclosedLegs(TimedFinder& finder, std::vector<RoadPoint> sources, std::vector<RoadPoint> targets,
                 std::vector<Milliseconds> open_times, std::vector<Milliseconds> shut_times);

    /// One time at every hour.
    bool is_settled(std::size_t source, std::size_t target) const;
    Milliseconds least_time(std::size_t source, std::size_t target) const { return open_times_[pair(source, target)]; }
    Milliseconds longest_time(std::size_t source, std::size_t target) const {
        return shut_times_[pair(source, target)];
    }
    /// Waits included; `closed` when there is no way within that (12 days).
    Milliseconds time(std::size_t source, std::size_t target, geo::Instant departure);

    std::size_t searches() const { return searched_.size(); }

private:
    std::size_t pair(std::size_t source, std::size_t target) const { return source * targets_.size() + target; }
    const std::vector<ShutStretch>& stretches(std::size_t source, std::size_t target);
    bool all_stay_shut(geo::Instant departure, Milliseconds time) const;

    TimedFinder& finder_;
    std::vector<RoadPoint> sources_;
    std::vector<RoadPoint> targets_;
    std::vector<Milliseconds> open_times_;
    std::vector<Milliseconds> shut_times_;
    geo::Intervals all_shut_;                                        ///< when every road that is ever shut is shut
    std::vector<std::optional<std::vector<ShutStretch>>> stretches_; ///< [pair], of the way on open roads
    std::map<std::pair<std::size_t, geo::Instant>, Milliseconds> searched_;
};

} // namespace routing::roads::timed
