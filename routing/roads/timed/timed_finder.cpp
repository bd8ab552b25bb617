#include "routing/roads/timed/timed_finder.hpp"

#include "routing/roads/zone_state.hpp"

#include <algorithm>
#include <cassert>
#include <functional>

namespace routing::roads::timed {

namespace {

std::vector<std::pair<std::uint32_t, Milliseconds>> times_by_node(const std::vector<hierarchy::LegEnd>& ends) {
    std::vector<std::pair<std::uint32_t, Milliseconds>> times;
    times.reserve(ends.size());
    for (const hierarchy::LegEnd& end : ends)
        times.emplace_back(end.node, end.time);
    std::sort(times.begin(), times.end());
    return times;
}

Milliseconds time_at(const std::vector<std::pair<std::uint32_t, Milliseconds>>& times, std::uint32_t node) {
    const auto found = std::lower_bound(times.begin(), times.end(), std::pair{node, Milliseconds{0}});
    return found != times.end() && found->first == node ? found->second : closed;
}

} // namespace

TimedFinder::TimedFinder(const hierarchy::Metric& metric, const ShutTimes& shut)
    : metric_(metric), shut_(shut), table_(metric), ends_(metric.network()), remaining_(metric),
      labels_(zone_states * std::size_t{metric.network().node_count()}) {}

bool TimedFinder::set_ends(const RoadPoint& from, const RoadPoint& to) {
    const auto is_shut = [this](EdgeIndex edge) { return metric_.is_shut(edge); };
    const auto departures = ends_.departures(from, is_shut);
    const auto arrivals = ends_.arrivals(to, is_shut);
    remaining_.set_target(arrivals);
    const auto& edges = network().edges;
    leaving_times_ = edges[value(from.edge)].destination_only ? times_by_node(departures) : NodeTimes{};
    entering_times_ = edges[value(to.edge)].destination_only ? times_by_node(arrivals) : NodeTimes{};
    whole_time_ = closed;
    for (const hierarchy::LegEnd& end : departures)
        whole_time_ = std::min(whole_time_, end.time + remaining_.from(end.node));
    return whole_time_ < closed || from.edge == to.edge;
}

/// A lower bound that falls by no more than an arc's time along it, so that a label is final when it leaves the queue.
Milliseconds TimedFinder::least_remaining(std::uint32_t label) {
    const std::uint32_t node = label / zone_states;
    switch (static_cast<ZoneState>(label % zone_states)) {
    case ZoneState::entering:
        return time_at(entering_times_, node);
    case ZoneState::leaving: {
        // The whole leg takes whole_time_ at least, and this much of it at most is behind.
        const Milliseconds behind = time_at(leaving_times_, node);
        return whole_time_ >= closed ? closed : whole_time_ - std::min(behind, whole_time_);
    }
    case ZoneState::open:
        break;
    }
    return remaining_.from(node);
}

void TimedFinder::offer(std::uint32_t label, Milliseconds time, std::uint32_t parent, std::uint32_t arc) {
    Label& known = labels_[label];
    if (time >= closed || (known.round == round_ && known.time <= time))
        return;
    const Milliseconds total = time + least_remaining(label);
    if (total >= closed)
        return;
    known = {time, round_, parent, arc, false};
    queue_.push_back((std::uint64_t{total} << 32) | label);
    std::push_heap(queue_.begin(), queue_.end(), std::greater<>{});
}

void TimedFinder::offer_arrival(const RoadPoint& to, bool forward, double start, Milliseconds time,
                                std::uint32_t parent) {
    const double end = driven_fraction(to, forward);
    if (end < start)
        return;
    const Milliseconds driving = piece_time(network(), {to.edge, forward, start, end});
    const Milliseconds arrival = shut_.start_after(to.edge, departure_, time, driving) + driving;
    if (arrival < arrival_.time)
        arrival_ = {arrival, parent, forward};
}

void TimedFinder::seed(const RoadPoint& from, const RoadPoint& to) {
    const bool destination_only = network().edges[value(from.edge)].destination_only;
    for (const bool forward : {true, false})
        for (const std::uint32_t arc : network().arcs_along(from.edge, forward)) {
            const double start = driven_fraction(from, forward);
            if (from.edge == to.edge)
                offer_arrival(to, forward, start, 0, none);
            const Milliseconds driving = piece_time(network(), {from.edge, forward, start, 1.0});
            offer(zone_states * value(network().arcs[arc].head) + value(first_state(destination_only)),
                  shut_.start_after(from.edge, departure_, 0, driving) + driving, none, arc);
        }
}

/// By a label of the same node in a freer state, and no later.
bool TimedFinder::is_beaten(std::uint32_t label) const {
    for (std::uint32_t freer = label - label % zone_states; freer < label; ++freer)
        if (labels_[freer].round == round_ && labels_[freer].time <= labels_[label].time)
            return true;
    return false;
}

void TimedFinder::scan(std::uint32_t label, const RoadPoint& to) {
    const std::uint32_t node = label / zone_states;
    const auto state = static_cast<ZoneState>(label % zone_states);
    const Milliseconds time = labels_[label].time;
    for (std::uint32_t i = network().first_arc[node]; i < network().first_arc[node + 1]; ++i) {
        const Arc& arc = network().arcs[i];
        const bool destination_only = network().edges[value(arc.edge)].destination_only;
        if (arc.time >= closed || metric_.is_shut(arc.edge) || !may_enter(state, destination_only))
            continue;
        if (arc.edge == to.edge)
            offer_arrival(to, arc.forward, 0.0, time, label);
        offer(zone_states * value(arc.head) + value(next_state(state, destination_only)),
              shut_.start_after(arc.edge, departure_, time, arc.time) + arc.time, label, i);
    }
}

Milliseconds TimedFinder::search(const RoadPoint& from, const RoadPoint& to, geo::Instant departure) {
    departure_ = departure;
    arrival_ = {};
    if (from.edge == to.edge && from.fraction == to.fraction) {
        arrival_.time = 0;
        return 0;
    }
    if (metric_.is_shut(from.edge) || metric_.is_shut(to.edge) || !set_ends(from, to))
        return closed;
    ++round_;
    assert(round_ != 0 && "four thousand million searches");
    queue_.clear();
    seed(from, to);
    while (!queue_.empty()) {
        std::pop_heap(queue_.begin(), queue_.end(), std::greater<>{});
        const auto total = static_cast<Milliseconds>(queue_.back() >> 32);
        const auto label = static_cast<std::uint32_t>(queue_.back());
        queue_.pop_back();
        if (total >= arrival_.time)
            break;
        if (labels_[label].settled || is_beaten(label))
            continue;
        labels_[label].settled = true;
        scan(label, to);
    }
    return arrival_.time;
}

TimedPath TimedFinder::unwind(const RoadPoint& from, const RoadPoint& to) const {
    if (from.edge == to.edge && from.fraction == to.fraction)
        return {};
    std::vector<PathPiece> pieces;
    const bool forward = arrival_.forward;
    if (arrival_.parent == none) {
        pieces.push_back({to.edge, forward, driven_fraction(from, forward), driven_fraction(to, forward)});
    } else {
        pieces.push_back({to.edge, forward, 0.0, driven_fraction(to, forward)});
        for (std::uint32_t label = arrival_.parent; label != none; label = labels_[label].parent) {
            const Arc& arc = network().arcs[labels_[label].arc];
            const bool first = labels_[label].parent == none;
            pieces.push_back({arc.edge, arc.forward, first ? driven_fraction(from, arc.forward) : 0.0, 1.0});
        }
        std::reverse(pieces.begin(), pieces.end());
    }
    TimedPath path = drive(network(), shut_, pieces, departure_);
    assert(path.time == arrival_.time);
    return path;
}

std::optional<Path> TimedFinder::path_without_closures(const RoadPoint& from, const RoadPoint& to) {
    return table_.quickest_path(from, to);
}

std::optional<TimedPath> TimedFinder::quickest(const RoadPoint& from, const RoadPoint& to, geo::Instant departure) {
    auto open_path = path_without_closures(from, to);
    if (!open_path)
        return std::nullopt;
    if (need_no_wait(stretches_ever_shut(network(), shut_, from, to, *open_path), shut_, departure))
        return TimedPath{open_path->time, open_path->length, std::move(open_path->pieces), {}};
    if (search(from, to, departure) >= closed)
        return std::nullopt;
    return unwind(from, to);
}

std::optional<Milliseconds> TimedFinder::travel_time(const RoadPoint& from, const RoadPoint& to,
                                                     geo::Instant departure) {
    const auto open_path = path_without_closures(from, to);
    if (!open_path)
        return std::nullopt;
    if (need_no_wait(stretches_ever_shut(network(), shut_, from, to, *open_path), shut_, departure))
        return open_path->time;
    return searched_time(from, to, departure);
}

std::optional<Milliseconds> TimedFinder::searched_time(const RoadPoint& from, const RoadPoint& to,
                                                       geo::Instant departure) {
    const Milliseconds time = search(from, to, departure);
    return time < closed ? std::optional(time) : std::nullopt;
}

} // namespace routing::roads::timed
