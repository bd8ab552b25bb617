#pragma once
/// Labelling: grows all partial plans layer by layer, drops dominated and hopeless ones, and keeps the best whole plan.
///
/// A layer holds the labels of one day with equally many settled visits; every extension settles at least one more or
/// ends the day, so a layer is complete, and free of dominated labels, before any of it is extended. With a width the
/// search is a beam: only the most promising labels of a layer are extended, the others are counted in the bound. Run
/// with growing widths it is a complete anytime search; the run that cuts nothing is the proof.
///
/// References: Dumas et al. 1995 (labels and elimination tests for one vehicle with time windows), Feillet et al. 2004
/// (unreachable visits), Righini and Salani 2009 (bounding), Tilk and Irnich 2017 (limits on duration); from memory.

#include "routing/order/bounds.hpp"
#include "routing/order/detours.hpp"
#include "routing/order/label.hpp"
#include "routing/order/part.hpp"
#include "routing/order/solve.hpp"

#include <array>
#include <chrono>
#include <optional>

namespace routing::order {

/// One move of a plan: the meals on the way and the stop it leads to.
struct Move {
    std::uint16_t step = 0; ///< as Label::step
    std::uint16_t gap = no_gap;
    std::uint16_t via = 0;
};

struct Plan {
    Standing standing;
    std::vector<Move> moves; ///< each day's last one is its end
    /// After the last night: where the crew is, from when it may be called, what is done. Of a part that goes on.
    std::uint32_t place = 0;
    Time ready = 0;
    VisitSet done = 0;
};

/// What a beam ranks the labels of a layer by, among those of equal value bound.
enum class Ranking { ready, cost };

struct RunResult {
    bool complete = false;          ///< nothing was cut: the plan in hand is the best
    std::optional<Standing> missed; ///< what was cut or left open may have led to this, no better
    std::uint64_t extended = 0;     ///< labels
    std::uint64_t cut = 0;          ///< labels, for the width
};

/// When a search stops.
struct SearchLimits {
    std::uint64_t labels = 0;
    std::uint64_t labels_held = 0;
    std::optional<std::chrono::steady_clock::time_point> deadline;
};

class Search {
public:
    /// `instance` and `detours`, which is filled on the way, must outlive the search.
    Search(const Instance& instance, Detours& detours, Part part, const SearchLimits& limits);

    /// Looks for better plans alone; `best` stays empty until one is found.
    void beat(const Standing& standing) {
        to_beat_ = standing;
        best_.reset();
    }
    void set_limits(const SearchLimits& limits);

    /// Days without visits: seldom the best plan, but the one in hand from the start. Not limited.
    void run_idle();
    /// One run over all visits, inside the limits; `width` 0: any width.
    RunResult run(std::size_t width, Ranking ranking);

    const Part& part() const { return part_; }
    /// See Bounds.
    void price_minutes(std::uint32_t steps, std::int64_t target) { bounds_.price_minutes(steps, target); }
    const std::optional<Plan>& best() const { return best_; }
    std::uint64_t labels() const { return grown_; }
    bool is_stopped() const { return stopped_; }

private:
    struct Trail {
        Move move;
        std::uint32_t parent = 0;
    };
    using Layers = std::array<Layer, 65>;

    void run_from(Label root, std::size_t width, Ranking ranking);
    void start_day(std::size_t at, Label label);
    void end_night(Label night, std::uint32_t next_start, Time rested);
    void extend(const Label& label, std::uint32_t day);
    void extend_to(const Label& label, std::uint32_t day, const Way& way, std::size_t way_number);
    void arrive(const Label& label, std::uint32_t day, DayClock clock, std::size_t way_number, Time travel, Move move,
                bool keep_set_up);
    void end_day(const Label& label, std::uint32_t day);
    bool may_sleep(const EndWay& end) const {
        const std::vector<bool>& nights = part_.days[at_].nights;
        return nights.empty() || nights[end.next_start];
    }
    std::int64_t cost_of(Time travel, Time wrap) const {
        return part_.value.empty() ? pack_cost(instance_, travel, wrap) : 0;
    }
    Time longest_way_home(const Label& label, std::uint32_t day) const;
    void end_idle_day(const Label& label, std::uint32_t day);
    void end_idle_day(const Label& label, std::uint32_t day, const EndWay& end, Time travel, std::optional<Time> wrap);
    void wrap(const Label& label, std::uint32_t day, const DayClock& clock, std::uint32_t taken, const EndWay& end,
              std::uint16_t gap, Time travel);
    void settle_meals(Label& label, std::uint32_t day) const;
    void forget_call(Label& label, std::uint32_t day) const;
    void settle_unreachable(Label& label, std::uint32_t day) const;
    bool hopeless(const Label& label, std::uint32_t day) const;
    void insert(Layers& layers, const Label& label);
    void finish(const Label& label, std::uint32_t place, Time rested);
    std::vector<std::uint32_t> choose(const Layer& layer, std::uint32_t day, std::size_t width, Ranking ranking);
    void note_open(const Label& label, std::uint32_t day);
    void note_open(const Layers& layers, std::uint32_t day);
    bool should_stop();

    const Instance& instance_;
    const Part part_;
    SearchLimits limits_;
    Bounds bounds_;
    Detours& detours_;
    VisitSet required_ = 0;       ///< of all days of the part
    std::vector<VisitSet> later_; ///< day -> visits that may be possible on a later day of the part
    std::size_t at_ = 0;          ///< position of the day in the part
    Layers today_;
    Layers tomorrow_;
    std::vector<Trail> trails_;
    std::vector<DayClock> here_; ///< scratch: after the meals of each gap eaten at the stop before
    std::vector<bool> here_possible_;
    RunResult result_;
    std::optional<Plan> best_;
    std::optional<Standing> to_beat_; ///< of `best_`, once there is one
    std::uint64_t grown_ = 0;         ///< labels made, hopeless and dominated ones included
    std::uint64_t held_ = 0;          ///< labels in the layers now
    std::uint64_t looked_at_ = 0;     ///< labels since the clock was read
    bool limited_ = false;
    bool stopped_ = false;
};

} // namespace routing::order
