#pragma once
/// How good a label can still become: completion bounds.
///
/// Value: everything not settled yet, cut to what the minutes left can hold (fractional knapsack, visits by value a
/// minute). Cost: when all of it must be done to keep up, each open visit needs a way in from a stop that is still to
/// come (or from where the crew is), and each stop but an end has one way out. Leaving costs a price fixed beforehand,
/// and the ways in cost that much less: any prices give a true bound, those of the least-cost assignment a good one.
/// Cost of a bound: O(open visits), a few steps each along lists sorted beforehand.

#include "routing/order/label.hpp"
#include "routing/order/minute_prices.hpp"
#include "routing/order/part.hpp"

#include <optional>

namespace routing::order {

/// Packs the two economy levels in the problem's order.
std::int64_t pack_cost(const Instance& instance, Time travel, Time wrap);

class Bounds {
public:
    /// For labels of a search over `part`; both must outlive it.
    Bounds(const Instance& instance, const Part& part);

    /// From now on minutes have prices: value bounds are tighter, and dearer. Takes so many steps towards `target`.
    void price_minutes(std::uint32_t steps, std::int64_t target);

    /// What doing a visit adds to a label's value.
    std::int64_t value_of(std::uint32_t visit) const { return value_[visit]; }
    /// No completion of `label`, a label of day `day`, has more value.
    std::int64_t value(const Label& label, std::uint32_t day) const;
    /// No completion that reaches `value(label)` costs less.
    std::int64_t cost(const Label& label, std::uint32_t day, std::int64_t value) const;
    /// The same if the day now ends, without the way to its end.
    std::int64_t cost_ending(const Label& label, std::uint32_t day, std::int64_t value) const;

private:
    struct WayIn {
        Time cost = 0;          ///< travel less the price of leaving
        std::uint32_t from = 0; ///< visit
    };
    /// The cheapest ways into every open visit, and the prices of leaving it.
    struct WaysIn {
        Time travel = 0;
        Time service = 0; ///< of those with a value
        bool possible = true;
    };
    WaysIn ways_in(VisitSet open, const Time* place_in, Time leaving_place, const Time* start_in) const;
    VisitSet open_visits(const Label& label) const;
    /// Whether `value` takes every open visit that has one.
    bool needs_all(const Label& label, std::int64_t value) const;
    std::int64_t cost_with(const Label& label, Time travel, Time wrap) const;
    void find_ways_in();
    void price_leaving();
    void find_edges_of_days();
    void find_needs();
    std::int64_t open_value(VisitSet open) const;
    Time minutes_left(const Label& label, std::uint32_t day) const;
    std::int64_t fill(const std::vector<std::uint32_t>& by_rate, VisitSet open, Time room,
                      const std::vector<std::int64_t>& gains) const;

    std::int64_t value_by_room(const Label& label, std::uint32_t day) const;

    const Instance& instance_;
    const Part& part_;
    std::optional<MinutePrices> prices_;
    std::uint32_t last_day_;
    std::vector<std::int64_t> must_;          ///< weight of each visit
    std::vector<std::int64_t> worth_;         ///< of each visit
    std::vector<std::int64_t> value_;         ///< both
    VisitSet valued_ = 0;                     ///< visits with any value
    std::vector<std::vector<WayIn>> ways_in_; ///< visit -> from other visits, cheapest first
    std::vector<Time> leaving_;               ///< visit -> price of leaving it
    std::vector<Time> place_leaving_;         ///< likewise
    std::vector<Time> place_in_;              ///< place * visits + visit: travel
    std::vector<Time> start_in_;              ///< visit -> travel from where a day may start
    std::vector<Time> visit_end_;             ///< day * visits + visit: travel to the nearest end less price of leaving
    std::vector<Time> later_ends_;            ///< day -> what ends of later days may take off
    std::vector<Time> least_service_;
    std::vector<Time> need_;                  ///< time a visit takes out of the days, at least
    std::vector<std::uint32_t> by_must_rate_; ///< visits by must weight (worth) a second of need, best first
    std::vector<std::uint32_t> by_worth_rate_;
    std::vector<Time> later_room_; ///< day -> length of the part's days after it
};

} // namespace routing::order
