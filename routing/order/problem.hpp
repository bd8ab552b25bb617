#pragma once
/// The pure ordering problem: which visits, in which order, on which day, at what time. Knows no film word, no sun, no
/// map: points are indices into a travel matrix, times are instants.
///
/// Rules
/// - A day starts at its start point not before `earliest_call` and ends at its end point not after `latest_wrap`.
/// - A visit is done at most once, by one of its options. Its start lies in one of the option's windows. From arrival to
///   start at least `setup` passes, from the end of service to departure at least `pack`; both fall away between
///   consecutive visits at the same point (no meal between them).
/// - `after`: those visits, if done at all, are done earlier; a visit whose predecessor is not done may not be done.
/// - Each meal of a day is taken at one of its candidate points (or, when `anywhere`, where the crew is) between two
///   stops; at most one meal point lies between two consecutive visits, several meals may be taken there in turn.
///   The whole meal lies inside `within`, and starts no later than call + `within_of_call`. A meal is not due on a day
///   whose crew is off work long enough inside the window: wrap + service <= within.latest, or within.earliest + service
///   <= call. (Call and wrap: leaving the start point, reaching the end point.)
/// - Between the wrap of a day and the next call lie at least `turnaround`.
///
/// Objective, in strict order: most must weight done; fewest due meals missed; most worth done; least travel; earliest wrap (summed over days,
/// each counted from its earliest call); then the order of visit numbers, so that one problem has one answer.

#include "geo/interval.hpp"

#include <cstdint>
#include <optional>
#include <vector>

namespace routing::order {

using Point = std::uint32_t; ///< row and column of the travel matrix
using geo::Instant;
using geo::Seconds;

/// When a service may start; both ends included.
struct TimeWindow {
    Instant earliest;
    Instant latest;
};

struct Option {
    Point point = 0;
    Seconds service{0};
    Seconds setup{0};
    Seconds pack{0};
    std::vector<TimeWindow> windows; ///< disjoint, in order of time; for the start of service
};

struct Visit {
    std::vector<Option> options;      ///< exactly one is done
    std::int64_t must_weight = 0;     ///< 1 for a must, 0 for a wish
    std::int64_t worth = 0;           ///< counted when done
    std::vector<std::uint32_t> after; ///< visits that come before this one
};

struct Meal {
    TimeWindow within;                    ///< the whole meal lies inside
    Seconds service{0};
    std::optional<Seconds> within_of_call; ///< latest start after the call
    std::vector<Point> candidates;
    bool anywhere = false;                ///< carried along: eaten at the stop before, no detour
};

struct Day {
    Instant earliest_call;
    Instant latest_wrap;
    /// Start point; nothing: where the night before was spent (first day: nowhere, the first visit is free to reach).
    std::optional<Point> start;
    /// One of these ends the day (one: base; several: beds to choose from); empty: wherever the last stop is.
    std::vector<Point> ends;
    std::vector<Meal> meals; ///< in order of time
    /// When the crew was called, if the day is already running; limits of the call then count from here.
    std::optional<Instant> called_at;
    /// The crew already stands set up at `start`: a first visit there needs no setup.
    bool set_up_at_start = false;
};

/// Travel seconds between points; `unreachable` where there is no way.
struct TravelMatrix {
    static constexpr std::int32_t unreachable = 1 << 30;
    std::uint32_t size = 0;
    std::vector<std::int32_t> seconds; ///< row by row
    std::int32_t operator()(Point from, Point to) const { return seconds[std::size_t{from} * size + to]; }
};

/// What the third level of the objective counts.
enum class Economy { travel, wrap }; ///< travel first then wrap, or wrap first then travel

struct Problem {
    std::vector<Visit> visits; ///< at most 64
    std::vector<Day> days;     ///< in order of time, not overlapping
    Seconds turnaround{0};
    TravelMatrix travel;
    Economy economy = Economy::travel;
};

} // namespace routing::order
