#pragma once
/// How good a label can still become: completion bounds.
///
/// Value: everything not settled yet, cut to what the minutes left can hold (fractional knapsack, visits by value a
/// minute). Cost: when all of it must be done to keep up, each open visit needs a way in, from a stop that is still to
/// come, and a place in the day. Cost of a bound: O(open visits), a few steps each along lists sorted beforehand.

#include "routing/order/label.hpp"

namespace routing::order {

/// Packs the two economy levels in the problem's order.
std::int64_t pack_cost(const Instance& instance, Time travel, Time wrap);

class Bounds {
public:
    explicit Bounds(const Instance& instance);

    /// No completion of `label`, a label of day `day`, has more value.
    std::int64_t value(const Label& label, std::uint32_t day) const;
    /// No completion that reaches `value(label)` costs less.
    std::int64_t cost(const Label& label, std::uint32_t day, std::int64_t value) const;

private:
    struct WayIn {
        Time travel = 0;
        std::uint32_t from = 0; ///< visit
    };
    std::int64_t open_value(VisitSet open) const;
    Time minutes_left(const Label& label, std::uint32_t day) const;
    template <class Part>
    std::int64_t fill(const std::vector<std::uint32_t>& by_rate, VisitSet open, Time room, Part part) const;

    const Instance& instance_;
    std::vector<std::vector<WayIn>> ways_in_; ///< visit -> from other visits, nearest first
    std::vector<Time> place_in_;              ///< place * visits + visit
    std::vector<Time> start_in_;              ///< day * visits + visit: from where later days may start
    std::vector<Time> visit_end_;             ///< day * visits + visit: to the nearest end
    std::vector<Time> least_service_;
    std::vector<Time> need_;                  ///< time a visit takes out of the days, at least
    std::vector<std::uint32_t> by_must_rate_; ///< visits by must weight (worth) a second of need, best first
    std::vector<std::uint32_t> by_worth_rate_;
    std::vector<Time> later_room_; ///< day -> length of the days after it
};

} // namespace routing::order
