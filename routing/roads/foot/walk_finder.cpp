#include "routing/roads/foot/walk_finder.hpp"

#include "geo/geodesic.hpp"
#include "routing/roads/edge_geometry.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <queue>
#include <unordered_map>

namespace routing::roads::foot {
namespace {

constexpr double off_path_metres_per_second = 0.6 * 4.0 / 3.6;
constexpr std::size_t paths_tried = 8;
constexpr std::uint32_t no_seed = ~std::uint32_t{0};

Milliseconds off_path_time(geo::Metres length) {
    return static_cast<Milliseconds>(std::llround(length.value / off_path_metres_per_second * 1000.0));
}

/// Both directions, the slower one; `closed` when either is.
Milliseconds time_of(const Edge& edge) {
    return std::max(edge.forward, edge.backward);
}

Milliseconds part_of(const Edge& edge, double share) {
    return static_cast<Milliseconds>(std::llround(static_cast<double>(time_of(edge)) * share));
}

/// The nodes at both ends of an edge that is open both ways.
struct Ends {
    std::uint32_t start, end;
};
Ends ends_of(const RoadNetwork& paths, EdgeIndex edge) {
    const std::uint32_t arc = paths.arcs_along(edge, true).front();
    return {paths.tail[arc], value(paths.arcs[arc].head)};
}

/// How the search came to a node: along `edge` from `parent`, or along part of the edge of a seed.
struct Label {
    Milliseconds time = closed;
    std::uint32_t parent = 0;
    std::uint32_t seed = no_seed; ///< set at the first node
    EdgeIndex edge{};
    bool forward = true;
    bool settled = false;
};

void append(std::vector<geo::Coordinate>& line, const std::vector<geo::Coordinate>& more) {
    for (const geo::Coordinate point : more)
        if (line.empty() || !(line.back() == point))
            line.push_back(point);
}

/// One spot's search and its answers.
class Search {
public:
    Search(const RoadNetwork& paths, const SnapIndex& index, geo::Coordinate spot, Milliseconds limit)
        : paths_(paths), index_(index), spot_(spot), limit_(limit), seeds_(near(spot)) {
        for (std::uint32_t n = 0; n < seeds_.size(); ++n) {
            const Edge& edge = paths_.edges[value(seeds_[n].edge)];
            const Milliseconds off = off_path_time(seeds_[n].moved);
            const Ends ends = ends_of(paths_, seeds_[n].edge);
            offer(ends.start, {off + part_of(edge, seeds_[n].fraction), 0, n, seeds_[n].edge, false});
            offer(ends.end, {off + part_of(edge, 1.0 - seeds_[n].fraction), 0, n, seeds_[n].edge, true});
        }
        while (!queue_.empty()) {
            const auto [time, node] = queue_.top();
            queue_.pop();
            Label& label = labels_[node];
            if (label.settled || time > label.time)
                continue;
            label.settled = true;
            for (const Arc& arc : paths_.arcs_from(NodeIndex{node})) {
                const Milliseconds crossing = time_of(paths_.edges[value(arc.edge)]);
                if (crossing < closed)
                    offer(value(arc.head), {time + crossing, node, no_seed, arc.edge, arc.forward});
            }
        }
    }

    std::optional<Walk> from(geo::Coordinate van) const {
        std::optional<Walk> best;
        const geo::Metres straight = geo::distance(van, spot_);
        if (straight <= farthest_off_path && off_path_time(straight) <= limit_)
            best = Walk{off_path_time(straight), straight, {van, spot_}};
        for (const RoadPoint& point : near(van)) {
            const Edge& edge = paths_.edges[value(point.edge)];
            const Milliseconds off = off_path_time(point.moved);
            const Ends ends = ends_of(paths_, point.edge);
            consider(best, van, point, off + part_of(edge, point.fraction), ends.start, 0.0);
            consider(best, van, point, off + part_of(edge, 1.0 - point.fraction), ends.end, 1.0);
            for (const RoadPoint& seed : seeds_) // along the one path both lie on
                if (seed.edge == point.edge) {
                    const Milliseconds time =
                        off + off_path_time(seed.moved) + part_of(edge, std::abs(seed.fraction - point.fraction));
                    if (time <= limit_ && (!best || time < best->time)) {
                        best = Walk{time, {}, {van}};
                        append(best->line, line_on_edge(paths_, point.edge, point.fraction, seed.fraction));
                        append(best->line, {spot_});
                    }
                }
        }
        if (best) {
            if (best->line.size() < 2)
                best->line = {van, spot_};
            best->length = geo::Metres{0.0};
            for (std::size_t n = 1; n < best->line.size(); ++n)
                best->length += geo::distance(best->line[n - 1], best->line[n]);
        }
        return best;
    }

private:
    std::vector<RoadPoint> near(geo::Coordinate place) const {
        std::vector<RoadPoint> found = index_.nearest_edges(place, paths_tried, farthest_off_path);
        std::erase_if(found, [&](const RoadPoint& p) { return time_of(paths_.edges[value(p.edge)]) >= closed; });
        return found;
    }

    void offer(std::uint32_t node, const Label& label) {
        if (label.time > limit_)
            return;
        Label& known = labels_[node];
        if (label.time >= known.time)
            return;
        known = label;
        queue_.emplace(label.time, node);
    }

    void consider(std::optional<Walk>& best, geo::Coordinate van, const RoadPoint& point, Milliseconds to_node,
                  std::uint32_t node, double end_fraction) const {
        const auto found = labels_.find(node);
        if (found == labels_.end() || found->second.time + to_node > limit_ ||
            (best && found->second.time + to_node >= best->time))
            return;
        best = Walk{found->second.time + to_node, {}, {van}};
        append(best->line, line_on_edge(paths_, point.edge, point.fraction, end_fraction));
        std::uint32_t here = node;
        while (labels_.at(here).seed == no_seed) {
            const Label& label = labels_.at(here);
            append(best->line, line_on_edge(paths_, label.edge, label.forward ? 1.0 : 0.0, label.forward ? 0.0 : 1.0));
            here = label.parent;
        }
        const Label& first = labels_.at(here);
        append(best->line, line_on_edge(paths_, first.edge, first.forward ? 1.0 : 0.0, seeds_[first.seed].fraction));
        append(best->line, {spot_});
    }

    using Entry = std::pair<Milliseconds, std::uint32_t>;
    const RoadNetwork& paths_;
    const SnapIndex& index_;
    geo::Coordinate spot_;
    Milliseconds limit_;
    std::vector<RoadPoint> seeds_;
    std::unordered_map<std::uint32_t, Label> labels_; ///< looked up only, never gone through
    std::priority_queue<Entry, std::vector<Entry>, std::greater<>> queue_;
};

} // namespace

std::vector<std::optional<Walk>> WalkFinder::walks(geo::Coordinate spot, const std::vector<geo::Coordinate>& from,
                                                   geo::Seconds limit) const {
    const auto most = static_cast<Milliseconds>(std::clamp<std::int64_t>(limit.count() * 1000, 0, closed - 1));
    const Search search(paths_, index_, spot, most);
    std::vector<std::optional<Walk>> found;
    found.reserve(from.size());
    for (const geo::Coordinate van : from)
        found.push_back(search.from(van));
    return found;
}

} // namespace routing::roads::foot
