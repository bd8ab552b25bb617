#pragma once
/// Makes a plan of several days better, part by part: large neighbourhood search.
///
/// Some days are set free together, with their visits and some of those dropped; nights, hours and visits of the other
/// days stay. The label search solves the part for something better, and the plan takes it if, timed as a whole, it
/// scores better. First one day, then two neighbouring ones (an evening's visit may cost the next sunrise), then any
/// two or three, with more labels each; a round in which nothing helped ends when nothing is left to try.
///
/// The first plan is made day by day. Deterministic but for a clock: parts come in a fixed order, the choice among
/// dropped visits comes from the seed.
///
/// Reference: P. Shaw, "Using constraint programming and local search methods to solve vehicle routing problems" (CP
/// 1998), from memory.

#include "routing/order/search.hpp"
#include "routing/order/timed_order.hpp"

#include <cstdint>
#include <map>
#include <optional>
#include <vector>

namespace routing::order {

class Improver {
public:
    Improver(const Instance& instance, Detours& detours, const SearchLimits& limits, std::uint64_t seed);

    /// Takes the stops of a plan to start from, if it is the best so far.
    void offer(const std::vector<Stop>& stops);
    /// Day by day: each day the best in sight, from where the day before has ended.
    void plan_day_by_day();
    /// Until the limits are reached or nothing is left to try.
    void improve();

    const std::optional<TimedOrder>& best() const { return best_; }
    const Score& score() const { return score_; }
    std::uint64_t labels() const { return labels_; }

private:
    /// A day of the plan in hand.
    struct DayState {
        std::size_t first = 0; ///< its stops
        std::size_t count = 0;
        VisitSet done = 0;
        Standing standing;
        bool off = false;
        Time ready = 0; ///< from when it may be called
        Time call = 0;  ///< as planned; latest that makes nothing later
        Time rested = 0;
    };
    using Days = std::uint32_t; ///< bits

    std::vector<Days> neighbourhoods(std::uint32_t effort) const;
    bool try_days(Days days, std::uint32_t effort);
    VisitSet choose_free(Days days, std::uint32_t effort);
    Part make_part(Days days, VisitSet free) const;
    void fix_night(PartDay& today, std::uint32_t next_part_day, VisitSet free) const;
    Time earliest_call(std::uint32_t day) const;
    std::uint32_t place_after(std::uint32_t day) const;
    Standing standing_of(const Part& part) const;
    bool take(std::vector<Stop> stops);
    bool splice(const Part& part, const std::vector<Move>& moves);
    void describe();
    bool is_stopped() const;
    std::uint64_t next_random();

    const Instance& instance_;
    const Problem& problem_;
    Detours& detours_;
    SearchLimits limits_;
    std::uint64_t random_;
    std::uint64_t labels_ = 0;
    std::optional<TimedOrder> best_;
    Score score_;
    std::vector<DayState> days_;
    std::map<std::pair<Days, VisitSet>, std::uint64_t> tried_; ///< fingerprint of what was searched in vain
};

/// The score of an order as timed.
Score score_of(const Problem& problem, const TimedOrder& timed);

} // namespace routing::order
