#pragma once
/// Solves a Problem exactly by labelling, and says so; or gives the best found with an honest bound. Several days that
/// are too much for one search are planned day by day, then made better a few days at a time.
///
///     const Solution best = solve(problem);
///     if (best.proof == Proof::optimal) ... // no solution scores better

#include "routing/order/problem.hpp"

#include <compare>
#include <cstdint>
#include <utility>
#include <vector>

namespace routing::order {

/// The levels of the objective; larger is better, compared in this order.
struct Score {
    std::int64_t must_weight = 0;
    std::int64_t meals = 0; ///< minus the number of due meals missed
    std::int64_t worth = 0;
    std::int64_t economy = 0; ///< minus seconds of what Problem::economy counts first
    std::int64_t last = 0;    ///< minus seconds of the other
    friend auto operator<=>(const Score&, const Score&) = default;
};

enum class StopKind : std::uint8_t { start, visit, meal, end };

/// One stop, in order of time. Times by earliest start after the earliest call that keeps the rules; `leave_by` and
/// `slack` by backward propagation.
struct Stop {
    StopKind kind = StopKind::visit;
    std::uint32_t day = 0;
    std::uint32_t index = 0; ///< visit number, or meal number of the day
    std::uint32_t option = 0;
    Point point = 0;
    Instant arrive{};
    Instant start{}; ///< of service
    Instant end{};   ///< of service
    /// After packing, and, where the leg varies, the wait for its passage. The start stop leaves so late that the first
    /// stop has no wait, or as little as passages that take no longer allow.
    Instant leave{};
    /// Latest departure that keeps everything after it on that day: each visit in the window it is planned in (the
    /// later of two that touch), meals, latest wrap, and no meal falling due that was not. Limits counted from the call
    /// keep the planned call. Of a varying leg by the passage planned, so that the way told stays the way. The next
    /// day's call is not looked at. End stop: latest_wrap.
    Instant leave_by{};
    Seconds slack{0}; ///< leave_by - leave; negative only on a day without visits that gets in after latest_wrap
    std::int32_t travel_in = 0; ///< seconds from the stop before
    friend bool operator==(const Stop&, const Stop&) = default;
};

enum class Proof { optimal, bounded };

struct Solution {
    Proof proof = Proof::optimal;
    /// False when no way was found from some day's start to any of its ends, with or without visits: then `stops` is
    /// empty, everything is dropped and the score is empty. With `Proof::optimal` there is none.
    bool found = true;
    Score score;
    Score bound; ///< no solution scores better; equals `score` when optimal
    /// Every day has a start and an end stop; only a day off that begins nowhere and may end anywhere has none.
    std::vector<Stop> stops;
    std::vector<std::uint32_t> dropped;                                ///< visits not done, ascending
    std::vector<std::pair<std::uint32_t, std::uint32_t>> missed_meals; ///< (day, meal) due but not taken
    std::uint64_t labels = 0; ///< work done: labels made; the same on every machine unless a clock stopped it
};

struct SolveLimits {
    std::uint64_t labels = 60'000'000;     ///< stop after making this many labels (deterministic)
    Seconds time{0};                       ///< 0: no clock; otherwise stop after this long (not deterministic)
    std::uint64_t labels_held = 8'000'000; ///< stop when so many are held at once, some 80 bytes each (deterministic)
    /// Of `labels`, those spent at most on making a plan of several days better part by part, once the search over all
    /// days is not soon complete. 0: none.
    std::uint64_t improve_labels = 24'000'000;
    std::uint64_t seed = 0; ///< of the choices made then; any value gives a plan, the same one each time
};

/// A visit that fits nowhere is dropped, musts last of all; a due meal that can't be had is missed and reported.
/// Throws std::invalid_argument for a malformed problem: index out of range, negative time, window that ends before it
/// begins, visits that come after each other in a circle, more than 64 visits, 31 days or 8 meals a day.
Solution solve(const Problem& problem, const SolveLimits& limits = {});

/// Times a given order exactly as `solve` would, filling the timed fields of `stops`; among the calls, windows and
/// passages that keep the rules those with the fewest due meals missed, then the least travel and the earliest wraps,
/// in the order Problem::economy says. False, and `stops` as it was, when the order breaks a rule; throws like `solve`
/// for a malformed problem.
bool time_stops(const Problem& problem, std::vector<Stop>& stops);

} // namespace routing::order
