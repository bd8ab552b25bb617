#include "routing/roads/snap.hpp"

#include "routing/roads/edge_geometry.hpp"
#include "routing/roads/round_trip.hpp"

#include <boost/geometry.hpp>
#include <boost/geometry/index/rtree.hpp>

#include <algorithm>
#include <cmath>
#include <tuple>
#include <utility>

namespace routing::roads {

namespace bg = boost::geometry;
namespace bgi = boost::geometry::index;

namespace {

using BoxCorner = bg::model::point<double, 3, bg::cs::cartesian>;
using SpaceBox = bg::model::box<BoxCorner>;

/// Pieces this short stray less than 2 mm from the line straight in longitude and latitude.
constexpr geo::Metres longest_piece{250.0};
/// Edges this close to the nearest count as equally near; map data is no finer.
constexpr geo::Metres same_distance{0.01};
constexpr geo::Metres first_radius{50.0};
/// More than the earth's diameter: no straight distance is longer.
constexpr geo::Metres longest_radius{1.3e7};

/// A straight piece of an edge's segment.
struct Piece {
    SpacePoint from, to;
    std::uint32_t edge = 0;
    std::uint32_t segment = 0; ///< index in RoadNetwork::shape of the segment's first point
    double share_from = 0.0;   ///< of the segment
    double share_to = 1.0;
};

/// Nearest point of one edge to a place.
struct Candidate {
    std::uint32_t edge = 0;
    std::uint32_t segment = 0;
    double share = 0.0; ///< of the segment
    geo::Metres distance;
};

SpaceBox box_of(const Piece& piece) {
    const auto [from, to] = std::pair(piece.from, piece.to);
    return {BoxCorner(std::min(from.x, to.x), std::min(from.y, to.y), std::min(from.z, to.z)),
            BoxCorner(std::max(from.x, to.x), std::max(from.y, to.y), std::max(from.z, to.z))};
}

SpaceBox box_around(const SpacePoint& centre, geo::Metres radius) {
    const double r = radius.value;
    return {BoxCorner(centre.x - r, centre.y - r, centre.z - r), BoxCorner(centre.x + r, centre.y + r, centre.z + r)};
}

} // namespace

struct SnapIndex::Tree {
    const RoadNetwork& network;
    std::vector<bool> usable;
    std::vector<Piece> pieces;
    bgi::rtree<std::pair<SpaceBox, std::uint32_t>, bgi::quadratic<16>> boxes;

    explicit Tree(const RoadNetwork& roads) : network(roads), usable(round_trip_edges(roads)) {
        for (std::uint32_t edge = 0; edge < network.edges.size(); ++edge)
            if (network.edges[edge].forward < closed || network.edges[edge].backward < closed)
                add(edge);
        std::vector<std::pair<SpaceBox, std::uint32_t>> entries;
        entries.reserve(pieces.size());
        for (std::uint32_t i = 0; i < pieces.size(); ++i)
            entries.emplace_back(box_of(pieces[i]), i);
        boxes = decltype(boxes)(entries);
    }

    void add(std::uint32_t edge) {
        const Edge& drawn = network.edges[edge];
        for (std::uint32_t i = drawn.shape_begin; i + 1 < drawn.shape_end; ++i) {
            const auto a = network.shape[i];
            const auto b = network.shape[i + 1];
            const auto parts = static_cast<int>(std::max(1.0, std::ceil(distance(a, b).value / longest_piece.value)));
            for (int part = 0; part < parts; ++part) {
                const double from = static_cast<double>(part) / parts;
                const double to = static_cast<double>(part + 1) / parts;
                pieces.push_back(
                    {in_space(point_between(a, b, from)), in_space(point_between(a, b, to)), edge, i, from, to});
            }
        }
    }

    /// Nearest point of every edge that comes within `radius`, in order of edge.
    std::vector<Candidate> within(const SpacePoint& place, geo::Metres radius) const {
        std::vector<Candidate> found;
        // A piece within the radius has a point inside the cube, so its box meets the cube: none is missed.
        for (auto box = boxes.qbegin(bgi::intersects(box_around(place, radius))); box != boxes.qend(); ++box) {
            const Piece& piece = pieces[box->second];
            const auto near = nearest_on_segment(place, piece.from, piece.to);
            if (near.distance <= radius)
                found.push_back({piece.edge, piece.segment,
                                 piece.share_from + near.share * (piece.share_to - piece.share_from), near.distance});
        }
        std::sort(found.begin(), found.end(), [](const Candidate& a, const Candidate& b) {
            return std::tie(a.edge, a.distance, a.segment, a.share) < std::tie(b.edge, b.distance, b.segment, b.share);
        });
        const auto same_edge = [](const Candidate& a, const Candidate& b) { return a.edge == b.edge; };
        found.erase(std::unique(found.begin(), found.end(), same_edge), found.end());
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

SnapIndex::SnapIndex(const RoadNetwork& network) : tree_(std::make_unique<Tree>(network)) {}
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
            if (tree_->usable[candidate.edge] && (!best || candidate.distance < best->distance))
                best = &candidate;
        if (best && best->distance <= radius) {
            const geo::Metres shortest = best->distance;
            bool passed_over = false;
            for (const Candidate& candidate : candidates) {
                if (!tree_->usable[candidate.edge])
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
    return tree_->usable[value(edge)];
}

std::vector<EdgeIndex> SnapIndex::edges_within(geo::Coordinate place, geo::Metres radius) const {
    std::vector<EdgeIndex> edges;
    for (const Candidate& candidate : tree_->within(in_space(place), radius))
        edges.push_back(EdgeIndex{candidate.edge});
    return edges;
}

} // namespace routing::roads
