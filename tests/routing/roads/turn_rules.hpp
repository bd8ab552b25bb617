#pragma once
/// What a driver may not do at junctions, as tests know it: plain lists, searched plainly.

#include "routing/roads/network.hpp"

#include <algorithm>
#include <cstdint>
#include <map>
#include <set>
#include <string>
#include <utility>
#include <vector>

namespace support {

/// An edge driven one way: 2 * edge in drawing order, 2 * edge + 1 against it.
using Direction = std::uint32_t;

inline Direction direction_of(routing::roads::EdgeIndex edge, bool forward) {
    return 2 * value(edge) + (forward ? 0 : 1);
}

/// OSM nodes an edge runs between, in drawing order.
using EdgeEnds = std::vector<std::pair<routing::roads::OsmId, routing::roads::OsmId>>;

/// Read from the arcs of either direction; (0, 0) for an edge closed both ways.
inline EdgeEnds edge_ends(const routing::roads::RoadNetwork& network) {
    EdgeEnds ends(network.edges.size());
    for (std::uint32_t node = 0; node < network.node_count(); ++node)
        for (const routing::roads::Arc& arc : network.arcs_from(routing::roads::NodeIndex{node})) {
            const auto tail = network.node_osm[node];
            const auto head = network.node_osm[value(arc.head)];
            ends[value(arc.edge)] = arc.forward ? std::pair(tail, head) : std::pair(head, tail);
        }
    return ends;
}

inline routing::roads::OsmId start_of(const EdgeEnds& ends, Direction direction) {
    return direction % 2 ? ends[direction / 2].second : ends[direction / 2].first;
}
inline routing::roads::OsmId end_of(const EdgeEnds& ends, Direction direction) {
    return start_of(ends, direction ^ 1U);
}

struct TurnRules {
    std::vector<std::vector<Direction>>
        forbidden;                              ///< stretches of two or more that may not be driven one after another
    std::set<routing::roads::OsmId> shut_nodes; ///< nothing passes; a road ends there on either side
};

/// How far a drive has come in each forbidden stretch: (stretch, parts driven), sorted.
using Progress = std::vector<std::pair<std::uint32_t, std::uint32_t>>;

/// TurnRules made ready to ask: what happens when `next` is driven after a drive with `progress`.
class TurnReferee {
public:
    TurnReferee(const TurnRules& rules, const EdgeEnds& ends) : rules_(rules), ends_(ends) {
        for (std::uint32_t i = 0; i < rules.forbidden.size(); ++i)
            starting_[rules.forbidden[i].front()].push_back(i);
    }

    /// After the first stretch of a drive.
    Progress begin(Direction first) const {
        Progress progress;
        if (const auto known = starting_.find(first); known != starting_.end())
            for (const std::uint32_t stretch : known->second)
                progress.emplace_back(stretch, 1);
        return progress;
    }

    /// False when the turn may not be made; otherwise `progress` is brought up to date. The two must meet at a node.
    bool turn(Progress& progress, Direction before, Direction next) const {
        if (rules_.shut_nodes.contains(end_of(ends_, before)) && before != (next ^ 1U))
            return false;
        Progress after = begin(next);
        for (const auto& [stretch, driven] : progress) {
            const auto& forbidden = rules_.forbidden[stretch];
            if (forbidden[driven] != next)
                continue;
            if (driven + 1 == forbidden.size())
                return false;
            after.emplace_back(stretch, driven + 1);
        }
        std::sort(after.begin(), after.end());
        progress = std::move(after);
        return true;
    }

private:
    const TurnRules& rules_;
    const EdgeEnds& ends_;
    std::map<Direction, std::vector<std::uint32_t>> starting_;
};

} // namespace support
