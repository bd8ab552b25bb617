#include "routing/roads/timed/enclosed_legs.hpp"

#include <algorithm>
#include <cassert>

namespace routing::roads::timed {

EnclosedLegs::EnclosedLegs(TimedFinder& finder, std::vector<RoadPoint> sources, std::vector<RoadPoint> targets,
                           std::vector<Milliseconds> open_times, std::vector<Milliseconds> shut_times)
    : finder_(finder), sources_(std::move(sources)), targets_(std::move(targets)), open_times_(std::move(open_times)),
      shut_times_(std::move(shut_times)), stretches_(sources_.size() * targets_.size()) {
    assert(open_times_.size() == stretches_.size() && shut_times_.size() == stretches_.size());
    const ShutTimes& shut = finder_.shut_times();
    all_shut_.push_back({since_ever, for_ever});
    for (const EdgeIndex edge : shut.edges_ever_shut())
        all_shut_ = geo::intersect(all_shut_, shut.shut_times_of(edge));
}

bool EnclosedLegs::is_settled(std::size_t source, std::size_t target) const {
    return open_times_[pair(source, target)] == shut_times_[pair(source, target)];
}

const std::vector<ShutStretch>& EnclosedLegs::stretches(std::size_t source, std::size_t target) {
    auto& known = stretches_[pair(source, target)];
    if (!known) {
        const auto path = finder_.path_without_closures(sources_[source], targets_[target]);
        assert(path && path->time == open_times_[pair(source, target)]);
        known = stretches_ever_shut(finder_.network(), finder_.shut_times(), sources_[source], targets_[target], *path);
    }
    return *known;
}

/// A drive along any of them would then begin when the way round has arrived.
bool EnclosedLegs::all_stay_shut(geo::Instant departure, Milliseconds time) const {
    return std::any_of(all_shut_.begin(), all_shut_.end(), [&](const geo::Interval& shut) {
        return shut.from < departure &&
               FineInstant{departure} + std::chrono::milliseconds{time} <= FineInstant{shut.until};
    });
}

Milliseconds EnclosedLegs::time(std::size_t source, std::size_t target, geo::Instant departure) {
    const std::size_t leg = pair(source, target);
    if (is_settled(source, target))
        return open_times_[leg];
    if (need_no_wait(stretches(source, target), finder_.shut_times(), departure))
        return open_times_[leg];
    if (all_stay_shut(departure, shut_times_[leg]))
        return shut_times_[leg];
    const auto [known, is_new] = searched_.try_emplace({leg, departure}, closed);
    if (is_new)
        known->second = finder_.searched_time(sources_[source], targets_[target], departure).value_or(closed);
    return known->second;
}

} // namespace routing::roads::timed
