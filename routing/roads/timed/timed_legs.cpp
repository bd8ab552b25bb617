#include "routing/roads/timed/timed_legs.hpp"

#include <algorithm>
#include <cassert>

namespace routing::roads::timed {

TimedLegs::TimedLegs(hierarchy::Metric& metric, const ShutTimes& shut, std::vector<RoadPoint> sources,
                     std::vector<RoadPoint> targets)
    : metric_(metric), shut_(shut), sources_(std::move(sources)), targets_(std::move(targets)), table_(metric),
      open_times_(table_.times(sources_, targets_)), stretches_(open_times_.size()) {
    metric.shut(shut.edges_ever_shut());
    shut_times_ = table_.times(sources_, targets_);
    metric.reopen();
    if (ShutRoadGraph::suits(metric.network(), shut))
        graph_.emplace(metric, shut, sources_, targets_);
    all_shut_.push_back({since_ever, for_ever});
    for (const EdgeIndex edge : shut.edges_ever_shut())
        all_shut_ = geo::intersect(all_shut_, shut.shut_times_of(edge));
}

const std::vector<ShutStretch>& TimedLegs::stretches(std::size_t source, std::size_t target) {
    auto& known = stretches_[pair(source, target)];
    if (!known) {
        const auto path = table_.quickest_path(sources_[source], targets_[target]);
        assert(path && path->time == open_times_[pair(source, target)]);
        known = stretches_ever_shut(metric_.network(), shut_, sources_[source], targets_[target], *path);
    }
    return *known;
}

geo::Intervals TimedLegs::unsettled(std::size_t source, std::size_t target) {
    using std::chrono::milliseconds;
    geo::Intervals spans;
    if (is_settled(source, target))
        return spans;
    for (const ShutStretch& stretch : stretches(source, target))
        for (const geo::Interval& shut : shut_.shut_times_of(stretch.edge)) {
            const FineInstant last = FineInstant{shut.from} - milliseconds{stretch.elapsed + stretch.driving};
            const FineInstant first = FineInstant{shut.until} - milliseconds{stretch.elapsed};
            spans.push_back({std::chrono::floor<geo::Seconds>(last), std::chrono::ceil<geo::Seconds>(first)});
        }
    return geo::join(std::move(spans));
}

/// A drive along any of them would then begin when the way round has arrived.
bool TimedLegs::all_stay_shut(geo::Instant departure, Milliseconds time) const {
    return std::any_of(all_shut_.begin(), all_shut_.end(), [&](const geo::Interval& shut) {
        return shut.from < departure &&
               FineInstant{departure} + std::chrono::milliseconds{time} <= FineInstant{shut.until};
    });
}

Milliseconds TimedLegs::time(std::size_t source, std::size_t target, geo::Instant departure) {
    const std::size_t leg = pair(source, target);
    if (is_settled(source, target))
        return open_times_[leg];
    if (need_no_wait(stretches(source, target), shut_, departure))
        return open_times_[leg];
    if (!graph_ || all_stay_shut(departure, shut_times_[leg]))
        return shut_times_[leg];
    return graph_->time(source, target, departure);
}

} // namespace routing::roads::timed
