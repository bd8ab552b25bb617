#pragma once
/// Roads shut for a time, and when the van may set off along one.
///
///     const ShutTimes shut(network.edges.size(), {{pass.edges, {noon, evening}}, {ford.edges, {night, for_ever}}});
///     const FineInstant start = shut.earliest_start(edge, at, crossing_time);
///
/// The rule: a road shut from `from` until `until` may be driven if the drive ends no later than `from`, or begins no
/// earlier than `until`; else the van waits before the road until `until`. So who leaves later arrives no earlier, and
/// a search may settle places in order of time. It holds for the part driven of a leg's first and last road too: a van
/// that stands on a shut road leaves it when it reopens.

#include "geo/interval.hpp"
#include "routing/roads/network.hpp"

#include <chrono>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace routing::roads::timed {

/// An instant to the millisecond, as roads are driven.
using FineInstant = std::chrono::sys_time<std::chrono::milliseconds>;

/// Ends of a closure without a beginning or an end: some thirty thousand years off. Later or earlier ones count as
/// these.
constexpr geo::Instant since_ever{geo::Seconds{-1'000'000'000'000}};
constexpr geo::Instant for_ever{geo::Seconds{1'000'000'000'000}};

struct TimedClosure {
    std::vector<EdgeIndex> edges;
    geo::Interval shut; ///< from inclusive, until exclusive; one of no length shuts nothing
};

class ShutTimes {
public:
    /// Nothing is ever shut.
    ShutTimes() = default;
    ShutTimes(std::size_t edge_count, const std::vector<TimedClosure>& closures);

    bool is_ever_shut(EdgeIndex edge) const { return !ever_shut_.empty() && ever_shut_[value(edge)]; }
    /// By rising index.
    const std::vector<EdgeIndex>& edges_ever_shut() const { return edges_; }
    /// Disjoint, not touching, in order of time; none for a road never shut.
    geo::Intervals shut_times_of(EdgeIndex edge) const;

    /// When a van that is at the road at `at` may set off for a drive of `driving` along it: `at`, or when a closure
    /// ends.
    FineInstant earliest_start(EdgeIndex edge, FineInstant at, Milliseconds driving) const;
    /// The same in time since `departure`: `closed` when that comes to `closed` (12 days) or more.
    Milliseconds start_after(EdgeIndex edge, geo::Instant departure, Milliseconds elapsed, Milliseconds driving) const;

private:
    std::size_t position(EdgeIndex edge) const;

    std::vector<bool> ever_shut_;               ///< [edge]; empty when nothing is
    std::vector<EdgeIndex> edges_;              ///< those ever shut
    std::vector<std::uint32_t> first_interval_; ///< one for each of edges_, and the end
    geo::Intervals intervals_;
};

} // namespace routing::roads::timed
