#include "routing/roads/timed/timed_legs.hpp"

#include "routing/roads/timed/roads_in_play.hpp"

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
    const std::vector<EdgeIndex> in_play = roads_in_play(metric, shut, sources_, targets_, ShutRoadGraph::most_arcs);
    if (ShutRoadGraph::suits(metric.network(), in_play))
        graph_.emplace(metric, shut, in_play, sources_, targets_, shut_times_);
    all_shut_.push_back({since_ever, for_ever});
    for (const EdgeIndex edge : in_play) {
        const geo::Intervals times = shut.shut_times_of(edge);
        all_shut_ = geo::intersect(all_shut_, times);
        ever_shut_.insert(ever_shut_.end(), times.begin(), times.end());
    }
    ever_shut_ = geo::join(std::move(ever_shut_));
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

/// What a van that leaves inside may meet; whoever arrives before the first road shuts, or leaves when the last
/// reopens, meets none.
geo::Intervals TimedLegs::may_meet_closure(std::size_t source, std::size_t target) {
    using std::chrono::milliseconds;
    geo::Intervals spans;
    const auto add = [&](const geo::Interval& shut, Milliseconds before_end, Milliseconds before_begin) {
        spans.push_back({std::chrono::floor<geo::Seconds>(FineInstant{shut.from} - milliseconds{before_end}),
                         std::chrono::ceil<geo::Seconds>(FineInstant{shut.until} - milliseconds{before_begin})});
    };
    if (graph_) {
        for (const geo::Interval& shut : ever_shut_)
            add(shut, least_time(source, target), 0);
    } else {
        for (const ShutStretch& stretch : stretches(source, target))
            for (const geo::Interval& shut : shut_.shut_times_of(stretch.edge))
                add(shut, stretch.elapsed + stretch.driving, stretch.elapsed);
    }
    return geo::join(std::move(spans));
}

geo::Intervals TimedLegs::unsettled(std::size_t source, std::size_t target) {
    if (is_settled(source, target))
        return {};
    if (graph_)
        if (auto spans = graph_->unsettled(source, target))
            return std::move(*spans);
    geo::Intervals spans = may_meet_closure(source, target);
    const std::chrono::milliseconds way_round{longest_time(source, target)};
    geo::Intervals settled;
    for (const geo::Interval& shut : all_shut_)
        if (const auto last = std::chrono::floor<geo::Seconds>(FineInstant{shut.until} - way_round); last > shut.from)
            settled.push_back({shut.from + geo::Seconds{1}, last});
    return geo::without(spans, settled);
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
    if (graph_)
        return all_stay_shut(departure, shut_times_[leg]) ? shut_times_[leg] : graph_->time(source, target, departure);
    return need_no_wait(stretches(source, target), shut_, departure) ? open_times_[leg] : shut_times_[leg];
}

} // namespace routing::roads::timed
