#pragma once
/// The pure ordering problem: which visits, in which order, on which day, at what time. Knows no film word, no sun, no
/// map: points are indices into a travel matrix, times are instants.
///
///     Problem problem;
///     problem.travel = {.size = 3, .seconds = {0, 600, 900, 600, 0, 300, 900, 300, 0}};
///     problem.visits = {{.options = {{.point = 1, .service = 45min, .windows = {{six, ten}}}}, .must_weight = 1},
///                       {.options = {{.point = 2, .service = 20min, .windows = {{six, noon}}}}, .worth = 30}};
///     problem.days = {{.earliest_call = five, .latest_wrap = noon, .start = 0, .ends = {0}}};
///     const Solution best = solve(problem);
///
/// A solution says for each day which stops are made in which order and when the crew is called; waiting is allowed
/// anywhere. It is judged on these rules:
///
/// - **Day.** The crew leaves the start point at the call, not before `earliest_call`, and reaches one of `ends` at the
///   wrap, not after `latest_wrap`. Staying at a point takes no time: the matrix' diagonal is not read. Without a start
///   point the crew meets at its first visit or meal point: the call is its arrival there.
/// - **Varying leg** (`varying`). Driven by one of its passages: the crew leaves inside the passage's window, waiting
/// for
///   it at the stop before if it must, and drives as long as the passage says. Which one, and so when to leave, is
///   chosen: by the objective, like everything else.
/// - **Visit.** Done at most once, by one of its options, on any day. Its start lies in one of the option's windows.
///   From arrival to start at least `setup` passes, from the end of service to departure at least `pack`; both fall
///   away between consecutive visits at the same point with no meal between them.
/// - **After.** A visit may be done only when all of its `after` have been done earlier.
/// - **Meal.** Taken between two stops of its day, at one of its candidate points or, when `anywhere`, where the crew
///   is: at the stop before, once packed up; that may be the start point (after the call) or another meal's point. At
///   most one meal point lies between two consecutive visits, several meals may be taken there in turn. The meals of a
///   day are taken in the order listed. The whole meal lies inside `within` and starts no later than the call +
///   `within_of_call`; at a candidate that has hours, unless it is carried there, it lies inside them. A meal may come
///   before the first visit and after the last one.
/// - **Due.** A meal not taken is missed, unless the crew is off work long enough inside its window:
///   wrap + service <= within.latest, or within.earliest + service <= call.
/// - **Turnaround.** From the wrap of a day to the next call at least `turnaround`.
/// - **Day without visits.** No meals are taken or due. If it needs no travel (the start is one of `ends`, or there are
///   none) it is a day off: no call, no wrap. Else the crew goes straight to one of `ends`, leaving as soon as earliest
///   call and turnaround (and a varying leg) allow: to an end it reaches by `latest_wrap`, or, so that a crew running
///   late still gets home, to the nearest by the matrix. Its arrival is a wrap like others.
/// - **Running day** (`called_at`). Limits counted from the call count from there; `earliest_call` is the present, and
///   no turnaround is asked before it.
///
/// Objective, in strict order: most must weight done; fewest due meals missed; most worth done; then least travel and
/// earliest wrap (summed over days, each counted from its earliest call), in the order `economy` says. Travel is what
/// is driven, from leaving one stop to arriving at the next; waiting is no travel, and where a road is shut the crew
/// waits before it leaves. What is still equal is decided by the search, in a fixed order of visit numbers: one problem
/// has one answer on every machine.

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
    std::vector<TimeWindow> windows; ///< in order of time, not overlapping; for the start of service
};

struct Visit {
    std::vector<Option> options;      ///< exactly one is done
    std::int64_t must_weight = 0;     ///< 1 for a must, 0 for a wish
    std::int64_t worth = 0;           ///< counted when done
    std::vector<std::uint32_t> after; ///< visits that come before this one
};

/// When a meal point is open: the whole meal lies inside one of the windows.
struct MealHours {
    Point point = 0;
    std::vector<TimeWindow> open; ///< in order of time, not overlapping; none: shut
};

struct Meal {
    TimeWindow within; ///< the whole meal lies inside
    Seconds service{0};
    std::optional<Seconds> within_of_call; ///< latest start after the call
    std::vector<Point> candidates;
    bool anywhere = false;          ///< carried along: eaten at the stop before, no detour
    std::vector<MealHours> hours{}; ///< of candidates that are not open at every hour, each once
};

struct Day {
    Instant earliest_call;
    Instant latest_wrap;
    /// Start point; nothing: where the night before was spent (first day: nowhere, the first stop is free to reach).
    std::optional<Point> start;
    /// One of these ends the day (one: base; several: beds to choose from); empty: wherever the last stop is.
    std::vector<Point> ends;
    std::vector<Meal> meals; ///< in order of time, at most 8
    /// When the crew was called, if the day is already running; limits of the call then count from here.
    std::optional<Instant> called_at;
    /// The crew already stands set up at `start` (which must be given): a first visit there needs no setup.
    bool set_up_at_start = false;
    /// Needed before leaving `start` on a running day, unless the first visit is there and keeps the set-up.
    Seconds pack_at_start{0};
};

/// Travel seconds between points; `unreachable` where there is no way.
struct TravelMatrix {
    static constexpr std::int32_t unreachable = 1 << 30;
    std::uint32_t size = 0;
    std::vector<std::int32_t> seconds; ///< row by row; each at most `longest_leg` or `unreachable`
    std::int32_t operator()(Point from, Point to) const { return seconds[std::size_t{from} * size + to]; }
};

/// No leg, no service, setup or pack is longer than this (23 days), no turnaround longer than a week, and all days lie
/// within half a year: sums then stay far from overflow.
inline constexpr std::int32_t longest_leg = 2'000'000;

/// What the fourth level of the objective counts.
enum class Economy { travel, wrap }; ///< travel first then wrap, or wrap first then travel

/// A way between two points that is open to departures in a window, however long.
struct Passage {
    TimeWindow departure;     ///< `Instant::min()`, `Instant::max()`: no limit
    std::int32_t seconds = 0; ///< at least 1, and no less than the matrix says
};

/// A leg that depends on the hour of departure. A road shut from twelve to two, 600 s before the barrier and 1200 s in
/// all, with a way round of 2400 s:
///
///     {from, to, {{{Instant::min(), noon - 600s}, 1200}, {{two - 600s, Instant::max()}, 1200},
///                 {{Instant::min(), Instant::max()}, 2400}}}
struct VaryingLeg {
    Point from = 0;
    Point to = 0;
    std::vector<Passage> passages; ///< in any order, may overlap; none: no way at any hour
};

struct Problem {
    std::vector<Visit> visits; ///< at most 64
    std::vector<Day> days;     ///< in order of their earliest call, at most 31
    Seconds turnaround{0};
    TravelMatrix travel; ///< of a varying leg: no more than its travel at any hour
    /// Each pair of different points at most once; every other leg takes what the matrix says at every hour.
    std::vector<VaryingLeg> varying;
    Economy economy = Economy::travel;
};

} // namespace routing::order
