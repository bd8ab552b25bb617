#pragma once
/// A plan of several days, and what is left when some of its days are set free.
///
///     const Part part = plan.part_of(0b110, visits);                 // the second and third day
///     ... search the part for better than plan.standing_of(part) ...
///     time_order(problem, plan.with(part, unfold(instance, part, moves)));

#include "routing/order/label.hpp"
#include "routing/order/part.hpp"
#include "routing/order/timed_order.hpp"

#include <cstdint>
#include <vector>

namespace routing::order {

class HeldPlan {
public:
    using Days = std::uint32_t; ///< bits

    HeldPlan(const Instance& instance, TimedOrder timed);

    const TimedOrder& timed() const { return timed_; }
    const Score& score() const { return score_; }
    VisitSet done(std::uint32_t day) const { return days_[day].done; }
    /// The place the day after `day` starts at.
    std::uint32_t place_after(std::uint32_t day) const;

    /// The days with the visits `free`, which hold all that is done on them now. The other days ask no more than that
    /// they can go as planned: the crew is at the first stop after a night as early, called no earlier than its limits
    /// allow, and from where it sleeps now if anything else but the first leg depended on that.
    Part part_of(Days days, VisitSet free) const;
    /// What the days of the part bring now, to be beaten.
    Standing standing_of(const Part& part) const;
    /// The stops of the plan with those of the part's days replaced.
    std::vector<Stop> with(const Part& part, const std::vector<Stop>& fresh) const;

private:
    struct DayState {
        std::size_t first = 0; ///< its stops
        std::size_t count = 0;
        VisitSet done = 0;
        Standing standing;
        bool off = false;
        Time ready = 0; ///< from when it may be called
        Time call = 0;  ///< as planned; latest that makes nothing later
    };
    void fix_night(PartDay& today, std::uint32_t next_part_day, VisitSet free) const;
    Time earliest_call(std::uint32_t day) const;

    const Instance* instance_;
    TimedOrder timed_;
    Score score_;
    std::vector<DayState> days_;
};

/// Leaves, of the beds to choose from inside the part, those `most` that most often lie best between a visit before and
/// one after the night; and those of the plan in hand, if any. Not exact.
void choose_nights(const Instance& instance, Part& part, std::size_t most, const HeldPlan* plan_in_hand);

} // namespace routing::order
