#pragma once
/// A bound on value from prices of minutes: no minute serves two visits.
///
/// Every minute of the part's days gets a price of zero or more. A visit takes its service and the least way from and
/// to its neighbours out of a day; what it is worth less the price of the cheapest such stretch it may have, or
/// nothing, summed over all visits, and the prices of all minutes there are (less those of meals that are due) bound
/// what can be gained. Any prices give a true bound; good ones come from subgradient steps (Lagrangian relaxation:
/// Held, Wolfe and Crowder 1974, from memory). Musts count as more than all worth together.
///
/// Minutes are kept in slots, values as whole numbers, so that a bound is the same on every machine. Cost of a step:
/// O(windows of all visits in slots); of a bound: O(open visits + meals^2).

#include "routing/order/label.hpp"
#include "routing/order/part.hpp"

#include <cstdint>
#include <vector>

namespace routing::order {

class MinutePrices {
public:
    static constexpr Time slot = 300; ///< seconds

    /// Without a price for any minute. Both must outlive it.
    MinutePrices(const Instance& instance, const Part& part);

    /// Starts from the prices of another part's days, where it shares them.
    void start_from(const MinutePrices& other);
    /// Looks for prices that lower the bound of the whole part towards `target`.
    void improve(std::uint32_t steps, std::int64_t target);
    /// No plan of the part has more value.
    std::int64_t value() const;
    /// No completion of `label`, a label of day `day`, has more value.
    std::int64_t value(const Label& label, std::uint32_t day) const;

private:
    /// Prices of one day of the part.
    struct DayPrices {
        Time begin = 0;
        Time end = 0;
        std::vector<std::int64_t> price; ///< of a second, by slot
        std::vector<std::int64_t> sum;   ///< of all seconds before a slot
        std::int64_t before(Time when) const;
        std::size_t slot_of(Time when) const;
    };
    /// A stretch of a day taken.
    struct Stretch {
        std::int64_t price = 0;
        std::uint32_t day = 0;
        Time begin = 0;
        Time end = 0;
    };
    struct Income {
        std::int64_t sum = 0;
        Time from = 0;
        Time until = 0;
        std::vector<Stretch> meals;
    };
    void find_margins();
    void sum_up(DayPrices& day) const;
    template <class Use>
    void for_each_start(std::uint32_t day, Time earliest, Time latest, Time length, Use use) const;
    Stretch cheapest_meal(std::uint32_t day, std::uint32_t meal) const;
    Income income(std::uint32_t day) const;
    /// The bound of the whole part; notes in `use` how much of each slot is asked for, less what there is.
    std::int64_t evaluate(std::vector<std::vector<double>>& use) const;
    void fill_tables();
    std::int64_t to_value(std::int64_t gained) const;
    bool is_free(std::uint32_t visit) const { return part_.free >> visit & 1U; }

    const Instance& instance_;
    const Part& part_;
    std::int64_t worth_unit_ = 0; ///< of one point of worth; 0: numbers too large, no bound
    std::int64_t must_unit_ = 0;
    std::vector<std::int64_t> gain_; ///< of a visit
    std::vector<Time> before_;       ///< way -> time taken before its service
    std::vector<Time> after_;        ///< way -> and after
    std::vector<Time> place_after_;  ///< place -> time taken after the service there
    Time most_before_ = 0;
    Time most_after_ = 0;
    std::vector<std::uint8_t> waived_; ///< by day
    std::vector<DayPrices> days_;      ///< by day; empty for days that are no part
    std::int64_t root_ = 0;
    std::int64_t root_unfed_ = 0; ///< with meals missed
    // Filled once prices are settled.
    std::vector<std::vector<std::int64_t>> best_; ///< day -> slot * visits + visit: most gained from then on
    std::vector<std::vector<std::vector<std::int64_t>>> meal_; ///< day, meal -> slot: least price from then on
    std::vector<std::int64_t> later_income_;                   ///< day -> of the part's days after it
    std::vector<std::int64_t> later_minutes_;                  ///< the same with meals missed
};

} // namespace routing::order
