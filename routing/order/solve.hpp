#pragma once
/// Solves a Problem exactly by labelling, and says so; or gives the best found with an honest bound.

#include "routing/order/problem.hpp"

#include <compare>
#include <string>

namespace routing::order {

/// The levels of the objective; larger is better, compared in this order.
struct Score {
    std::int64_t must_weight = 0;
    std::int64_t meals = 0;   ///< minus the number of due meals not to be had
    std::int64_t worth = 0;
    std::int64_t economy = 0; ///< minus seconds of the third level
    std::int64_t last = 0;    ///< minus seconds of the fourth
    friend auto operator<=>(const Score&, const Score&) = default;
};

enum class StopKind : std::uint8_t { start, visit, meal, end };

/// One stop, in order of time. Times by earliest start; `leave_by` and `slack` by backward propagation.
struct Stop {
    StopKind kind = StopKind::visit;
    std::uint32_t day = 0;
    std::uint32_t index = 0;  ///< visit number, or meal number of the day
    std::uint32_t option = 0;
    Point point = 0;
    Instant arrive;
    Instant start;            ///< of service
    Instant end;              ///< of service
    Instant leave;            ///< after packing; the start stop leaves so late that the first visit has no wait
    Instant leave_by;         ///< latest departure that keeps everything after it on that day
    Seconds slack{0};         ///< leave_by - leave; for the end stop: latest_wrap - arrive
    std::int32_t travel_in = 0; ///< seconds from the stop before
};

enum class Proof { optimal, bounded };

struct Solution {
    Proof proof = Proof::optimal;
    Score score;
    Score bound;                        ///< no solution scores better; equals `score` when optimal
    std::vector<Stop> stops;
    std::vector<std::uint32_t> dropped; ///< visits not done, ascending
    std::vector<std::pair<std::uint32_t, std::uint32_t>> missed_meals; ///< (day, meal) due but not to be had
    std::uint64_t labels = 0;           ///< work done; the same on every machine
};

struct SolveLimits {
    std::uint64_t labels = 20'000'000; ///< stop proving beyond this many labels (deterministic)
    Seconds time{0};                   ///< 0: no clock; otherwise stop after this long (not deterministic)
};

/// A visit that fits nowhere is dropped, musts last of all; a due meal that can't be had is missed and reported: a level of
/// the objective between musts and worth. Throws std::invalid_argument for a
/// malformed problem (index out of range, more than 64 visits).
Solution solve(const Problem& problem, const SolveLimits& limits = {});

/// Times a given order exactly as `solve` would (earliest start, leave_by, slack), filling the timed fields of `stops`.
/// False when the order breaks a rule.
bool time_stops(const Problem& problem, std::vector<Stop>& stops);

} // namespace routing::order
