#include "routing/roads/hierarchy/leg_ends.hpp"

#include "routing/roads/shortest_path.hpp"

#include <algorithm>
#include <map>
#include <queue>
#include <tuple>

namespace routing::roads::hierarchy {

LegEnds::LegEnds(const RoadNetwork& network) : network_(network) {
    for (std::uint32_t arc = 0; arc < network.arcs.size(); ++arc)
        if (network.edges[value(network.arcs[arc].edge)].destination_only)
            zone_arcs_into_.emplace_back(value(network.arcs[arc].head), arc);
    std::sort(zone_arcs_into_.begin(), zone_arcs_into_.end());
}

std::vector<LegEnd> LegEnds::departures(const RoadPoint& from, const IsShut& is_shut) const {
    return ends_of(from, true, is_shut);
}

std::vector<LegEnd> LegEnds::arrivals(const RoadPoint& to, const IsShut& is_shut) const {
    return ends_of(to, false, is_shut);
}

std::vector<LegEnd> LegEnds::ends_of(const RoadPoint& point, bool onward, const IsShut& is_shut) const {
    if (is_shut(point.edge))
        return {};
    std::vector<LegEnd> seeds;
    for (const bool forward : {true, false})
        for (const std::uint32_t arc : network_.arcs_along(point.edge, forward)) {
            const Milliseconds crossing = network_.arcs[arc].time;
            const Milliseconds before = time_to_fraction(crossing, driven_fraction(point, forward));
            seeds.push_back({onward ? value(network_.arcs[arc].head) : network_.tail[arc],
                             onward ? crossing - before : before, none, arc});
        }
    return spread(std::move(seeds), onward, network_.edges[value(point.edge)].destination_only, is_shut);
}

std::vector<LegEnd> LegEnds::spread(std::vector<LegEnd> seeds, bool onward, bool in_zone, const IsShut& is_shut) const {
    const auto later = [](const LegEnd& a, const LegEnd& b) {
        return std::tie(a.time, a.node, a.arc) > std::tie(b.time, b.node, b.arc);
    };
    if (!in_zone) {
        std::sort(seeds.begin(), seeds.end(), [&](const LegEnd& a, const LegEnd& b) { return later(b, a); });
        std::vector<LegEnd> ends;
        for (const LegEnd& seed : seeds)
            if (seed.time < closed &&
                std::none_of(ends.begin(), ends.end(), [&](const LegEnd& end) { return end.node == seed.node; }))
                ends.push_back(seed);
        return ends;
    }
    std::priority_queue<LegEnd, std::vector<LegEnd>, decltype(later)> queue(later, std::move(seeds));
    std::map<std::uint32_t, bool> met;
    std::vector<LegEnd> ends;
    const auto offer = [&](std::uint32_t arc, std::uint32_t node, std::uint32_t nearer) {
        const Milliseconds time = ends[nearer].time + network_.arcs[arc].time;
        if (network_.arcs[arc].time < closed && time < closed && !is_shut(network_.arcs[arc].edge))
            queue.push({node, time, nearer, arc});
    };
    while (!queue.empty()) {
        const LegEnd end = queue.top();
        queue.pop();
        if (end.time >= closed || !met.try_emplace(end.node, true).second)
            continue;
        const auto here = static_cast<std::uint32_t>(ends.size());
        ends.push_back(end);
        if (onward) {
            for (std::uint32_t arc = network_.first_arc[end.node]; arc < network_.first_arc[end.node + 1]; ++arc)
                if (network_.edges[value(network_.arcs[arc].edge)].destination_only)
                    offer(arc, value(network_.arcs[arc].head), here);
        } else {
            const std::pair<std::uint32_t, std::uint32_t> begin{end.node, 0};
            for (auto arc = std::lower_bound(zone_arcs_into_.begin(), zone_arcs_into_.end(), begin);
                 arc != zone_arcs_into_.end() && arc->first == end.node; ++arc)
                offer(arc->second, network_.tail[arc->second], here);
        }
    }
    return ends;
}

} // namespace routing::roads::hierarchy
