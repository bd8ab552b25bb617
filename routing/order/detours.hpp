#pragma once
/// Meal points and beds as kinds of way: for a move between two stops, the few candidates worth looking at.
///
/// A candidate is left out only when another is no farther from the stop before and no farther from whatever comes
/// after, and nearer to one of them: it is then better for every call, every wait and every level of the objective (or,
/// equally near, listed earlier). A candidate with hours puts out only those with the same. With a leg that varies by
/// the hour a candidate counts as near as it ever is, and puts out no other. Lists are made when first asked for and
/// kept. Cost of a list: O(m k) for m candidates of which k stay; for ends that carry over to the next day O(u m k), u
/// points that may come next.

#include "routing/order/instance.hpp"

#include <map>
#include <optional>

namespace routing::order {

/// By way of a meal point to the next visit.
struct Detour {
    Time there = 0;
    Time onward = 0;
    Point point = 0;
    const Departures* there_by = nullptr; ///< where the leg varies; `there` and `onward` are then the least
    const Departures* onward_by = nullptr;
    std::uint32_t hours = 0; ///< index into the gap's hours
};

/// The way to an end of the day, straight or by way of a meal point.
struct EndWay {
    Time there = 0;  ///< to the meal point, or nothing
    Time onward = 0; ///< to the end
    Point via = 0;
    std::uint32_t end = 0;        ///< index into DayPlan::ends, or `where_it_is`
    std::uint32_t next_start = 0; ///< place the next day starts at
    const Departures* there_by = nullptr;
    const Departures* onward_by = nullptr;
    std::uint32_t hours = 0; ///< index into the gap's hours
};

class Detours {
public:
    /// End of a day that may end wherever the last stop is.
    static constexpr std::uint32_t where_it_is = 0x7FFF;
    static constexpr std::uint32_t straight = 0xFFFF'FFFF;

    explicit Detours(const Instance& instance);

    /// From a place to a visit point by gap `gap` of day `day`, which must have points to go to.
    const std::vector<Detour>& between(std::uint32_t day, std::uint32_t gap, const Place& from, std::uint32_t to);
    /// From a place to the day's ends, by gap `gap` or `straight`; least travel first.
    const std::vector<EndWay>& to_end(std::uint32_t day, std::uint32_t gap, const Place& from);

private:
    /// Gap points worth a detour from `from` to `to`, in the order listed.
    std::vector<Detour> by_meal(const Gap& gap, const Place& from, Point to) const;
    std::vector<EndWay> all_ends(std::uint32_t day, const Gap* gap, const Place& from) const;
    std::vector<EndWay> keep_useful(std::uint32_t day, std::vector<EndWay> ways) const;
    /// Points the crew may go to after spending the night of `day`.
    /// True for a point that is only an end.
    std::map<Point, bool> next_points(std::uint32_t day) const;
    /// The later days (bits) that could be a day off there.
    std::uint32_t may_stay(std::uint32_t day, Point point) const;

    const Instance& instance_;
    std::size_t rows_;
    std::vector<std::uint32_t> first_gap_; ///< day -> number of its first gap over all days
    std::vector<std::optional<std::vector<Detour>>> between_;
    std::vector<std::optional<std::vector<EndWay>>> to_end_;
};

} // namespace routing::order
