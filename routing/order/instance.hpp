#pragma once
/// A Problem laid out for the search: whole seconds from the first call, flat tables, windows cut to each day, and for
/// every place the latest time from which each visit can still be reached. Built once by `prepare`, never changed.
///
/// Cost: O(p^3 + p^2 m + e m) for p visit points, m meal points, e start and end points.

#include "routing/order/departures.hpp"

#include <cstdint>
#include <vector>

namespace routing::order {

using VisitSet = std::uint64_t; ///< bit v: visit v

inline constexpr std::int64_t must_unit = std::int64_t{1} << 40;
inline constexpr std::int64_t missed_meal_unit = std::int64_t{1} << 32;
inline constexpr Time no_way = TravelMatrix::unreachable;

/// An option of a visit.
struct Way {
    std::uint32_t visit = 0;
    std::uint32_t option = 0;
    Point point = 0;
    std::uint32_t to = 0;    ///< row among the visit points
    std::uint32_t place = 0; ///< where it leaves the crew
    Time service = 0;
    Time setup = 0;
    Time pack = 0;
};

/// Where a label stands: after a visit (point and packing; visits alike in both share it), or at the start of a day.
struct Place {
    Point point = 0;
    bool nowhere = false; ///< start of a day with no point: the first stop is free to reach
    bool start = false;
    Time pack = 0;
    std::uint32_t from = 0; ///< row among the points travelled from
    bool set_up = false;    ///< a start where some day's crew may stand set up
};

/// A meal point, and when its meals may start: a point open at several hours is listed for each.
struct GapPoint {
    Point point = 0;
    std::uint32_t hours = 0; ///< index into Gap::hours
};

/// Meals taken between two stops: some where the crew is, then, at one meal point, some more.
struct Gap {
    std::uint32_t here = 0;  ///< meals (bits) eaten at the stop before
    std::uint32_t there = 0; ///< meals (bits) eaten at the meal point
    std::uint32_t first = 0; ///< lowest and highest meal taken
    std::uint32_t last = 0;
    /// Candidates of the first meal of `there` that serve the rest as well; empty when `there` is.
    std::vector<GapPoint> points;
    /// Different ones only. Of each meal of `there`, in order, the span of its start; the first entry, any hour, is
    /// empty.
    std::vector<std::vector<Span>> hours;
};

struct DayPlan {
    Time earliest_call = 0;
    Time latest_wrap = 0;
    bool running = false;          ///< already called
    Time pack_at_start = 0;        ///< before leaving where the day starts
    bool set_up_at_start = false;  ///< no set-up for a first visit where the day starts
    bool carries = false;          ///< the next day starts where this one ends
    std::uint32_t fixed_start = 0; ///< place the next day starts at, unless it carries on from here
    std::vector<Point> ends;
    std::vector<MealRule> meals;
    std::vector<Gap> gaps;
    std::vector<std::uint32_t> first_window; ///< way -> its windows, as in CSR
    std::vector<Span> windows;
    std::vector<std::int32_t>
        deadline;          ///< place * visits + visit: latest ready time from which it can be started; -1 none
    VisitSet possible = 0; ///< visits that may be possible on the day
};

/// The travel matrix' entry; staying takes no time.
inline Time leg(const TravelMatrix& travel, Point from, Point to) {
    return from == to ? 0 : travel(from, to);
}

struct Instance {
    const Problem* problem = nullptr;
    Instant origin;
    std::uint32_t visits = 0;
    std::vector<Way> ways;
    std::vector<std::uint32_t> first_way; ///< visit -> its ways, as in CSR
    std::vector<Place> places;
    std::vector<std::uint32_t>
        start_place;               ///< point -> place of a day's start there; `no_place` if no day starts there
    std::uint32_t nowhere = 0;     ///< place of a day that starts nowhere
    std::uint32_t first_start = 0; ///< place the first day starts at
    std::vector<Point> to_points;
    std::vector<std::int32_t> legs; ///< from * to_points + to; of varying legs the least
    VaryingLegs varying;
    std::vector<const Departures*> leg_departures; ///< as `legs`; empty when nothing varies
    std::vector<DayPlan> days;
    std::vector<VisitSet> before;    ///< all visits that come before, directly or not
    std::vector<std::int64_t> value; ///< of a visit: must_weight * must_unit + worth
    VisitSet valued = 0;             ///< visits with any value

    /// Least travel between stops, straight or by any one meal point; for bounds.
    std::vector<std::int32_t> arcs;         ///< from * to_points + to
    std::vector<std::vector<Time>> end_arc; ///< day, from: to the nearest end
    static constexpr std::uint32_t no_place = 0xFFFF'FFFF;

    Time leg_between(std::uint32_t from, std::uint32_t to) const {
        return legs[std::size_t{from} * to_points.size() + to];
    }
    const Departures* departures_between(std::uint32_t from, std::uint32_t to) const {
        return leg_departures.empty() ? nullptr : leg_departures[std::size_t{from} * to_points.size() + to];
    }
    Time arc(std::uint32_t from, std::uint32_t to) const { return arcs[std::size_t{from} * to_points.size() + to]; }
};

/// `problem` must have passed check_problem and outlive the instance.
Instance prepare(const Problem& problem);

} // namespace routing::order
