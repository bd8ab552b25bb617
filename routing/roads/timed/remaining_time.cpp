#include "routing/roads/timed/remaining_time.hpp"

#include <algorithm>
#include <cassert>

namespace routing::roads::timed {

using hierarchy::Hierarchy;
using hierarchy::Rank;
using hierarchy::UpArc;

RemainingTime::RemainingTime(const hierarchy::Metric& metric)
    : metric_(metric), time_(metric.shape().size(), closed), known_(metric.shape().size(), 0),
      below_(metric.shape().size(), closed) {}

void RemainingTime::set_target(const std::vector<hierarchy::LegEnd>& arrivals) {
    ++round_;
    assert(round_ != 0 && "four thousand million targets");
    for (const Rank rank : ranks_below_)
        below_[rank] = closed;
    ranks_below_.clear();
    const Hierarchy& shape = metric_.shape();
    // Every rank from an end to its root, once, rising: a rank met before has its ancestors listed already.
    for (const hierarchy::LegEnd& end : arrivals) {
        const auto middle = static_cast<std::ptrdiff_t>(ranks_below_.size());
        for (Rank at = shape.rank[end.node]; at != none && known_[at] != round_; at = shape.parent[at]) {
            known_[at] = round_;
            ranks_below_.push_back(at);
        }
        std::inplace_merge(ranks_below_.begin(), ranks_below_.begin() + middle, ranks_below_.end());
    }
    for (const hierarchy::LegEnd& end : arrivals) {
        Milliseconds& time = below_[shape.rank[end.node]];
        time = std::min(time, end.time);
    }
    for (const Rank rank : ranks_below_)
        for (UpArc arc = shape.first[rank]; below_[rank] < closed && arc < shape.first[rank + 1]; ++arc) {
            Milliseconds& above = below_[shape.head[arc]];
            above = std::min(above, below_[rank] + metric_.down(arc));
        }
    for (const Rank rank : ranks_below_)
        known_[rank] = 0;
}

Milliseconds RemainingTime::from(std::uint32_t node) {
    const Hierarchy& shape = metric_.shape();
    climb_.clear();
    for (Rank at = shape.rank[node]; at != none && known_[at] != round_; at = shape.parent[at])
        climb_.push_back(at);
    for (auto rank = climb_.rbegin(); rank != climb_.rend(); ++rank) {
        Milliseconds time = below_[*rank];
        for (UpArc arc = shape.first[*rank]; arc < shape.first[*rank + 1]; ++arc)
            time = std::min(time, metric_.up(arc) + time_[shape.head[arc]]);
        time_[*rank] = time;
        known_[*rank] = round_;
    }
    return time_[shape.rank[node]];
}

} // namespace routing::roads::timed
