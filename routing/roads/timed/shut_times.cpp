#include "routing/roads/timed/shut_times.hpp"

#include <algorithm>
#include <cassert>
#include <utility>

namespace routing::roads::timed {

ShutTimes::ShutTimes(std::size_t edge_count, const std::vector<TimedClosure>& closures) {
    std::vector<std::pair<EdgeIndex, geo::Interval>> pairs;
    for (const TimedClosure& closure : closures) {
        const geo::Interval shut{std::max(closure.shut.from, since_ever), std::min(closure.shut.until, for_ever)};
        if (shut.from >= shut.until)
            continue;
        for (const EdgeIndex edge : closure.edges)
            pairs.emplace_back(edge, shut);
    }
    if (pairs.empty())
        return;
    ever_shut_.assign(edge_count, false);
    std::stable_sort(pairs.begin(), pairs.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    for (auto pair = pairs.begin(); pair != pairs.end();) {
        const EdgeIndex edge = pair->first;
        assert(value(edge) < edge_count);
        geo::Intervals of_edge;
        for (; pair != pairs.end() && pair->first == edge; ++pair)
            of_edge.push_back(pair->second);
        ever_shut_[value(edge)] = true;
        edges_.push_back(edge);
        first_interval_.push_back(static_cast<std::uint32_t>(intervals_.size()));
        of_edge = geo::join(std::move(of_edge));
        intervals_.insert(intervals_.end(), of_edge.begin(), of_edge.end());
    }
    first_interval_.push_back(static_cast<std::uint32_t>(intervals_.size()));
}

std::size_t ShutTimes::position(EdgeIndex edge) const {
    return static_cast<std::size_t>(std::lower_bound(edges_.begin(), edges_.end(), edge) - edges_.begin());
}

geo::Intervals ShutTimes::shut_times_of(EdgeIndex edge) const {
    if (!is_ever_shut(edge))
        return {};
    const std::size_t at = position(edge);
    return {intervals_.begin() + first_interval_[at], intervals_.begin() + first_interval_[at + 1]};
}

FineInstant ShutTimes::earliest_start(EdgeIndex edge, FineInstant at, Milliseconds driving) const {
    if (!is_ever_shut(edge))
        return at;
    const std::size_t place = position(edge);
    const std::chrono::milliseconds drive{driving};
    for (std::uint32_t i = first_interval_[place]; i < first_interval_[place + 1]; ++i) {
        if (at + drive <= intervals_[i].from)
            break;
        at = std::max<FineInstant>(at, intervals_[i].until);
    }
    return at;
}

Milliseconds ShutTimes::start_after(EdgeIndex edge, geo::Instant departure, Milliseconds elapsed,
                                    Milliseconds driving) const {
    if (!is_ever_shut(edge))
        return elapsed;
    const FineInstant at = FineInstant{departure} + std::chrono::milliseconds{elapsed};
    const auto start = (earliest_start(edge, at, driving) - departure).count();
    return start < closed ? static_cast<Milliseconds>(start) : closed;
}

} // namespace routing::roads::timed
