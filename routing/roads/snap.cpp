#include "routing/roads/snap.hpp"

#include "routing/roads/edge_geometry.hpp"
#include "routing/roads/round_trip.hpp"

#include <algorithm>
#include <utility>

namespace routing::roads {

namespace {

/// Edges this close to the nearest count as equally near; map data is no finer.
constexpr geo::Metres same_distance{0.01};
constexpr geo::Metres first_radius{50.0};
/// More than the earth's diameter: no straight distance is longer.
constexpr geo::Metres longest_radius{1.3e7};

/// Nearest point of one edge to a place.
struct Candidate {
    std::uint32_t edge = 0;
    std::uint32_t segment = 0; ///< index in RoadNetwork::shape of the segment's first point
    double share = 0.0;        ///< of the segment
    geo::Metres distance;
};

} // namespace

struct SnapIndex::Tree {
    const RoadNetwork& network;
    SnapParts parts;

    Tree(const RoadNetwork& roads, SnapParts of) : network(roads), parts(std::move(of)) {}

    bool usable(std::uint32_t edge) const { return parts.usable[edge] != 0; }

    /// Nearest point of every edge that comes within `radius`, in order of edge.
    std::vector<Candidate> within(const SpacePoint& place, geo::Metres radius) const {
        std::vector<Candidate> found;
        parts.boxes.for_each_near(place, radius, [&](std::uint32_t edge) {
            std::optional<Candidate> nearest;
            for_each_piece(network, network.edges[edge],
                           [&](const SpacePoint& from, const SpacePoint& to, std::uint32_t segment, double share_from,
                               double share_to) {
                               const auto near = nearest_on_segment(place, from, to);
                               if (near.distance <= radius && (!nearest || near.distance < nearest->distance))
                                   nearest = Candidate{edge, segment, share_from + near.share * (share_to - share_from),
                                                       near.distance};
                           });
            if (nearest)
                found.push_back(*nearest);
        });
        std::sort(found.begin(), found.end(), [](const Candidate& a, const Candidate& b) { return a.edge < b.edge; });
        return found;
    }

    RoadPoint road_point(const Candidate& candidate, geo::Coordinate place) const {
        const Edge& edge = network.edges[candidate.edge];
        const auto shape = network.shape_of(edge);
        const std::size_t segment = candidate.segment - edge.shape_begin;
        const geo::Metres total = line_length(shape);
        const geo::Metres before = line_length(shape.first(segment + 1));
        const geo::Metres along = distance(shape[segment], shape[segment + 1]) * candidate.share;
        RoadPoint point;
        point.edge = EdgeIndex{candidate.edge};
        point.at = point_between(shape[segment], shape[segment + 1], candidate.share);
        point.fraction = total.value > 0.0 ? std::min(1.0, (before + along).value / total.value) : 0.0;
        point.moved = distance(place, point.at);
        return point;
    }

    bool open_both_ways(std::uint32_t edge) const {
        return network.edges[edge].forward < closed && network.edges[edge].backward < closed;
    }
};

SnapParts find_snap_parts(const RoadNetwork& network) {
    SnapParts parts{find_edge_boxes(network), {}};
    const std::vector<bool> usable = round_trip_edges(network);
    parts.usable.assign(usable.begin(), usable.end());
    return parts;
}

SnapIndex::SnapIndex(const RoadNetwork& network) : SnapIndex(network, find_snap_parts(network)) {}
SnapIndex::SnapIndex(const RoadNetwork& network, SnapParts parts)
    : tree_(std::make_unique<Tree>(network, std::move(parts))) {}
SnapIndex::~SnapIndex() = default;
SnapIndex::SnapIndex(SnapIndex&&) noexcept = default;
SnapIndex& SnapIndex::operator=(SnapIndex&&) noexcept = default;

std::optional<RoadPoint> SnapIndex::nearest(geo::Coordinate place, geo::Metres limit) const {
    const SpacePoint centre = in_space(place);
    limit = std::min(limit, longest_radius);
    // All edges within a radius are seen before one is chosen, so the first radius with a usable edge decides.
    for (geo::Metres radius = std::min(first_radius, limit);; radius = std::min(radius * 2.0, limit)) {
        const auto candidates = tree_->within(centre, radius + same_distance);
        const Candidate* best = nullptr;
        for (const Candidate& candidate : candidates)
            if (tree_->usable(candidate.edge) && (!best || candidate.distance < best->distance))
                best = &candidate;
        if (best && best->distance <= radius) {
            const geo::Metres shortest = best->distance;
            bool passed_over = false;
            for (const Candidate& candidate : candidates) {
                if (!tree_->usable(candidate.edge))
                    passed_over = passed_over || candidate.distance + same_distance < shortest;
                else if (candidate.distance <= shortest + same_distance &&
                         (tree_->open_both_ways(candidate.edge) && !tree_->open_both_ways(best->edge)))
                    best = &candidate;
            }
            RoadPoint point = tree_->road_point(*best, place);
            point.passed_over_nearer = passed_over;
            return point;
        }
        if (radius >= limit)
            return std::nullopt;
    }
}

std::vector<RoadPoint> SnapIndex::nearest_edges(geo::Coordinate place, std::size_t count, geo::Metres limit) const {
    const SpacePoint centre = in_space(place);
    limit = std::min(limit, longest_radius);
    std::vector<Candidate> candidates;
    for (geo::Metres radius = std::min(first_radius, limit);; radius = std::min(radius * 2.0, limit)) {
        candidates = tree_->within(centre, radius);
        if (candidates.size() >= count || radius >= limit)
            break;
    }
    std::stable_sort(candidates.begin(), candidates.end(),
                     [](const Candidate& a, const Candidate& b) { return a.distance < b.distance; });
    candidates.resize(std::min(candidates.size(), count));
    std::vector<RoadPoint> points;
    for (const Candidate& candidate : candidates)
        points.push_back(tree_->road_point(candidate, place));
    return points;
}

bool SnapIndex::is_round_trip(EdgeIndex edge) const {
    return tree_->usable(value(edge));
}

const SnapParts& SnapIndex::parts() const {
    return tree_->parts;
}

std::vector<EdgeIndex> SnapIndex::edges_within(geo::Coordinate place, geo::Metres radius) const {
    std::vector<EdgeIndex> edges;
    for (const Candidate& candidate : tree_->within(in_space(place), radius))
        edges.push_back(EdgeIndex{candidate.edge});
    return edges;
}

} // namespace routing::roads
