#include "routing/roads/foot/walk_finder.hpp"

#include "routing/roads/edge_geometry.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <functional>
#include <numeric>

namespace routing::roads::foot {
namespace {

/// Paths this close to the nearest count as equally near, and points of a line this close as one.
constexpr geo::Metres same_distance{0.01};

Milliseconds time_for(geo::Metres length, geo::KilometresPerHour pace) {
    return static_cast<Milliseconds>(std::llround(length.value * 3600.0 / pace.value));
}

Milliseconds limit_in_milliseconds(geo::Seconds limit) {
    return static_cast<Milliseconds>(std::min<std::int64_t>(limit.count(), (closed - 1) / 1000) * 1000);
}

/// From `place` over the path's line, or the one point both ends share, to `spot`.
std::vector<geo::Coordinate> whole_line(geo::Coordinate place, const std::vector<geo::Coordinate>& on_paths,
                                        geo::Coordinate spot) {
    std::vector<geo::Coordinate> line{place};
    for (const geo::Coordinate point : on_paths)
        if (distance(line.back(), point) > same_distance)
            line.push_back(point);
    if (line.size() > 1 && distance(line.back(), spot) <= same_distance)
        line.back() = spot;
    else if (line.back() != spot)
        line.push_back(spot);
    return line;
}

} // namespace

WalkFinder::WalkFinder(const RoadNetwork& foot, const SnapIndex& foot_index, ClosedEdges closed_edges,
                       SlopePace* slopes)
    : network_(foot), index_(foot_index), closed_edges_(std::move(closed_edges)), slopes_(slopes),
      first_in_(foot.node_count() + 1, 0), in_arcs_(foot.arcs.size()), labels_(foot.node_count()) {
    assert(foot.component.size() == foot.node_count());
    for (const Arc& arc : foot.arcs)
        ++first_in_[value(arc.head) + 1];
    std::partial_sum(first_in_.begin(), first_in_.end(), first_in_.begin());
    std::vector<std::uint32_t> next(first_in_.begin(), first_in_.end() - 1);
    for (std::uint32_t arc = 0; arc < foot.arcs.size(); ++arc)
        in_arcs_[next[value(foot.arcs[arc].head)]++] = arc;
}

Milliseconds WalkFinder::crossing(EdgeIndex edge, bool forward) const {
    if (slopes_)
        return slopes_->crossing(edge, forward);
    const Edge& drawn = network_.edges[value(edge)];
    return forward ? drawn.forward : drawn.backward;
}

Milliseconds WalkFinder::time_of(const PathPiece& piece) const {
    const Milliseconds whole = crossing(piece.edge, piece.forward);
    return time_to_fraction(whole, piece.to_fraction) - time_to_fraction(whole, piece.from_fraction);
}

bool WalkFinder::open_both_ways(EdgeIndex edge) const {
    const Edge& drawn = network_.edges[value(edge)];
    return drawn.forward < closed && drawn.backward < closed;
}

/// Strong component of both ends of the edge; none when it leads from one to another for good.
std::uint32_t WalkFinder::part_of(EdgeIndex edge) const {
    for (const bool forward : {true, false})
        for (const std::uint32_t arc : network_.arcs_along(edge, forward)) {
            const std::uint32_t tail = network_.component[network_.tail[arc]];
            return tail == network_.component[value(network_.arcs[arc].head)] ? tail : none;
        }
    return none;
}

std::vector<WalkFinder::PathEnd> WalkFinder::path_ends(geo::Coordinate place) const {
    struct Found {
        RoadPoint point;
        std::uint32_t part;
    };
    std::vector<Found> found;
    constexpr std::uint32_t largest_part = 0;
    for (std::size_t count = 8;; count *= 8) {
        found.clear();
        bool largest_found = false;
        const std::vector<RoadPoint> points = index_.nearest_edges(place, count, longest_off_path);
        for (const RoadPoint& point : points) {
            if (is_shut(point.edge))
                continue;
            const std::uint32_t part = part_of(point.edge);
            const auto known = std::find_if(found.begin(), found.end(), [&](const Found& f) { return f.part == part; });
            if (known != found.end()) {
                // At a junction the one that leads both ways serves any walk.
                if (point.moved <= known->point.moved + same_distance && open_both_ways(point.edge) &&
                    !open_both_ways(known->point.edge))
                    known->point = point;
            } else if (part != none && !largest_found) {
                found.push_back({point, part});
                largest_found = part == largest_part;
            }
        }
        if (largest_found || points.size() < count)
            break;
    }
    std::vector<PathEnd> ends;
    for (const Found& one : found)
        ends.push_back({one.point, time_for(one.point.moved, off_path_pace)});
    return ends;
}

void WalkFinder::offer(std::uint32_t node, std::uint64_t time, std::uint32_t arc, std::uint32_t end,
                       Milliseconds limit) {
    Label& known = labels_[node];
    if (time > limit || (known.round == round_ && known.time <= time))
        return;
    known = {static_cast<Milliseconds>(time), round_, arc, end};
    queue_.push_back((time << 32) | node);
    std::push_heap(queue_.begin(), queue_.end(), std::greater<>{});
}

void WalkFinder::search(const std::vector<PathEnd>& ends, Milliseconds limit) {
    ++round_;
    assert(round_ != 0 && "four thousand million searches");
    queue_.clear();
    for (std::uint32_t end = 0; end < ends.size(); ++end)
        for (const bool forward : {true, false}) {
            const RoadPoint& point = ends[end].point;
            const Milliseconds whole = crossing(point.edge, forward);
            for (const std::uint32_t arc : network_.arcs_along(point.edge, forward))
                offer(network_.tail[arc],
                      std::uint64_t{ends[end].stretch} + time_to_fraction(whole, driven_fraction(point, forward)), none,
                      2 * end + (forward ? 0 : 1), limit);
        }
    while (!queue_.empty()) {
        std::pop_heap(queue_.begin(), queue_.end(), std::greater<>{});
        const std::uint64_t time = queue_.back() >> 32;
        const auto node = static_cast<std::uint32_t>(queue_.back());
        queue_.pop_back();
        if (time != labels_[node].time)
            continue;
        for (std::uint32_t i = first_in_[node]; i < first_in_[node + 1]; ++i) {
            const std::uint32_t arc = in_arcs_[i];
            if (is_shut(network_.arcs[arc].edge))
                continue;
            offer(network_.tail[arc], time + crossing(network_.arcs[arc].edge, network_.arcs[arc].forward), arc,
                  labels_[node].end, limit);
        }
    }
}

std::optional<Walk> WalkFinder::walk_from(geo::Coordinate place, geo::Coordinate spot, const std::vector<PathEnd>& ends,
                                          Milliseconds limit) const {
    struct Best {
        std::uint64_t time;
        PathEnd start;
        bool forward;
        std::uint32_t node; ///< the walk's first; none when it stays on one edge
        std::uint32_t end;  ///< directed, see Label
    };
    std::optional<Best> best;
    const auto take = [&](const Best& candidate) {
        if (candidate.time <= limit && (!best || candidate.time < best->time))
            best = candidate;
    };
    for (const PathEnd& start : path_ends(place))
        for (const bool forward : {true, false}) {
            const RoadPoint& point = start.point;
            const Milliseconds whole = crossing(point.edge, forward);
            if (whole >= closed)
                continue;
            const double begin = driven_fraction(point, forward);
            const Milliseconds before = time_to_fraction(whole, begin);
            for (std::uint32_t end = 0; end < ends.size(); ++end)
                if (ends[end].point.edge == point.edge && driven_fraction(ends[end].point, forward) >= begin)
                    take({std::uint64_t{start.stretch} + ends[end].stretch +
                              time_to_fraction(whole, driven_fraction(ends[end].point, forward)) - before,
                          start, forward, none, 2 * end + (forward ? 0 : 1)});
            for (const std::uint32_t arc : network_.arcs_along(point.edge, forward)) {
                const std::uint32_t node = value(network_.arcs[arc].head);
                if (labels_[node].round == round_)
                    take({std::uint64_t{start.stretch} + (whole - before) + labels_[node].time, start, forward, node,
                          labels_[node].end});
            }
        }
    if (!best)
        return std::nullopt;

    const PathEnd& last = ends[best->end / 2];
    const bool last_forward = best->end % 2 == 0;
    const double begin = driven_fraction(best->start.point, best->forward);
    const double end = driven_fraction(last.point, last_forward);
    Path path;
    if (best->node == none) {
        path.pieces.push_back({last.point.edge, last_forward, begin, end});
    } else {
        path.pieces.push_back({best->start.point.edge, best->forward, begin, 1.0});
        std::uint32_t node = best->node;
        for (; labels_[node].arc != none; node = value(network_.arcs[labels_[node].arc].head)) {
            const Arc& arc = network_.arcs[labels_[node].arc];
            path.pieces.push_back({arc.edge, arc.forward, 0.0, 1.0});
        }
        path.pieces.push_back({last.point.edge, last_forward, 0.0, end});
    }
    std::erase_if(path.pieces, [](const PathPiece& piece) { return piece.from_fraction == piece.to_fraction; });
    Walk walk;
    walk.time = static_cast<Milliseconds>(best->time);
    walk.length = best->start.point.moved + last.point.moved;
    walk.time_back = best->start.stretch + last.stretch;
    for (const PathPiece& piece : path.pieces) {
        walk.length += piece_length(network_, piece);
        walk.notes |= network_.edges[value(piece.edge)].notes;
        const bool open_back = crossing(piece.edge, !piece.forward) < closed;
        walk.time_back +=
            open_back ? time_of({piece.edge, !piece.forward, 1.0 - piece.to_fraction, 1.0 - piece.from_fraction})
                      : time_of(piece);
    }
    const auto on_paths = path.pieces.empty() ? std::vector<geo::Coordinate>{last.point.at} : path_line(network_, path);
    walk.line = whole_line(place, on_paths, spot);
    return walk;
}

std::vector<std::optional<Walk>> WalkFinder::walks(geo::Coordinate spot, const std::vector<geo::Coordinate>& from,
                                                   geo::Seconds limit) {
    std::vector<std::optional<Walk>> walks(from.size());
    if (limit < geo::Seconds{0})
        return walks;
    const Milliseconds longest = limit_in_milliseconds(limit);
    const std::vector<PathEnd> ends = path_ends(spot);
    search(ends, longest);
    for (std::size_t i = 0; i < from.size(); ++i) {
        const geo::Metres straight = distance(from[i], spot);
        if (straight > within_sight) {
            walks[i] = walk_from(from[i], spot, ends, longest);
            continue;
        }
        const Milliseconds time = time_for(straight, flat_pace);
        if (time <= longest)
            walks[i] = Walk{time, time, straight, whole_line(from[i], {}, spot), note_none};
    }
    return walks;
}

} // namespace routing::roads::foot
