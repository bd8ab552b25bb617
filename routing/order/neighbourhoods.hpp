#pragma once
/// Makes a plan of several days better, part by part: large neighbourhood search.
///
/// Some days are set free together, with their visits and some of those dropped; nights, hours and visits of the other
/// days stay. The label search looks for something better for the part, and the plan takes it if, timed as a whole, it
/// scores better. First one day, then two neighbouring ones (an evening's visit may cost the next sunrise), then any
/// two. When nothing helps any more two days are planned without some of their wishes, from there it is made better
/// again, and the better of the two plans stays.
///
/// The first plan holds the musts alone, or is made day by day, if that scores better. Deterministic but for a clock:
/// parts come in a fixed order, the choice among visits comes from the seed.
///
/// References, from memory: P. Shaw, "Using constraint programming and local search methods to solve vehicle routing
/// problems" (CP 1998): large neighbourhoods. H. Lourenco, O. Martin, T. Stutzle, "Iterated local search" (2003).

#include "routing/order/held_plan.hpp"
#include "routing/order/search.hpp"

#include <cstdint>
#include <map>
#include <optional>
#include <vector>

namespace routing::order {

class Improver {
public:
    Improver(const Instance& instance, Detours& detours, const SearchLimits& limits, std::uint64_t seed);

    /// Takes a plan to start from, if it is the best so far.
    void offer(const std::vector<Stop>& stops) { take(stops); }
    /// Makes a first plan and then better ones, until the limits are reached or nothing is left to try. May be called
    /// again with other limits.
    void improve();

    void set_limits(const SearchLimits& limits) { limits_ = limits; }
    const std::optional<HeldPlan>& best() const { return plan_; }
    std::uint64_t labels() const { return labels_; }

private:
    using Days = HeldPlan::Days;
    /// Visits of some days.
    struct Choice {
        VisitSet done = 0;
        VisitSet open = 0; ///< done nowhere, and possible there
    };

    bool is_stopped() const;
    void plan_musts();
    void plan_day_by_day();
    SearchLimits at_most(std::uint64_t labels) const;
    bool take(const std::vector<Stop>& stops);
    bool search_part(Search& search);
    void climb(std::uint32_t most_effort);
    std::vector<Days> neighbourhoods(std::uint32_t effort) const;
    bool try_days(Days days, std::uint32_t effort);
    bool kick();
    Choice choice_of(Days days) const;
    VisitSet choose_free(Days days, std::uint32_t effort);
    std::uint64_t next_random();

    const Instance& instance_;
    const Problem& problem_;
    Detours& detours_;
    SearchLimits limits_;
    std::uint64_t random_;
    std::uint64_t labels_ = 0;
    std::optional<HeldPlan> plan_;
    bool started_ = false;
    std::map<std::pair<Days, VisitSet>, std::uint64_t> tried_; ///< fingerprint of what was searched in vain
};

} // namespace routing::order
