#pragma once
/// A packed tree of boxes round the edges of a network, to find those near a place: all levels in one array, nothing to
/// build when it is read from a file.
///
///     const EdgeBoxes boxes = find_edge_boxes(network);
///     boxes.for_each_near(centre, 50.0_m, [&](std::uint32_t edge) { ... });
///
/// Edges lie in order of a space-filling curve; each sixteen in a row share a box, each sixteen of those, and so on up
/// to one (packed as by I. Kamel and C. Faloutsos, Hilbert R-tree, VLDB 1994; from memory).

#include "routing/roads/edge_geometry.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <vector>

namespace routing::roads {

/// In space, metres; rounded outwards, so that nothing inside is outside.
struct SpaceBox {
    std::array<float, 3> low{};
    std::array<float, 3> high{};
};

struct EdgeBoxes {
    static constexpr std::size_t fan = 16;

    std::vector<std::uint32_t> edges; ///< those open in some direction
    std::vector<SpaceBox> boxes;      ///< of each of `edges`, then of each sixteen of the level before, up to one

    /// Every edge whose box meets the cube of that half side: all within the radius, and some more. In order of the
    /// curve.
    template <class Use>
    void for_each_near(const SpacePoint& centre, geo::Metres radius, const Use& use) const;
};

/// Number of boxes on all levels over so many edges.
std::size_t box_count(std::size_t edges);

EdgeBoxes find_edge_boxes(const RoadNetwork& network);

/// The straight pieces an edge is made of: `use(from, to, segment, share_from, share_to)`, segment the index in
/// RoadNetwork::shape of its first point. A piece strays less than 2 mm from the line straight in longitude and
/// latitude.
template <class Use>
void for_each_piece(const RoadNetwork& network, const Edge& edge, const Use& use) {
    constexpr double longest_piece = 250.0; // metres
    SpacePoint from = in_space(network.shape[edge.shape_begin]);
    for (std::uint32_t segment = edge.shape_begin; segment + 1 < edge.shape_end; ++segment) {
        const geo::Coordinate a = network.shape[segment];
        const geo::Coordinate b = network.shape[segment + 1];
        const SpacePoint end = in_space(b);
        const auto parts = static_cast<int>(std::max(1.0, std::ceil(distance(from, end).value / longest_piece)));
        double share_from = 0.0;
        for (int part = 1; part <= parts; ++part) {
            const double share_to = static_cast<double>(part) / parts;
            const SpacePoint to = part == parts ? end : in_space(point_between(a, b, share_to));
            use(from, to, segment, share_from, share_to);
            from = to;
            share_from = share_to;
        }
    }
}

template <class Use>
void EdgeBoxes::for_each_near(const SpacePoint& centre, geo::Metres radius, const Use& use) const {
    const std::array<double, 3> at{centre.x, centre.y, centre.z};
    const auto meets = [&](const SpaceBox& box) {
        for (std::size_t axis = 0; axis < 3; ++axis)
            if (static_cast<double>(box.low[axis]) > at[axis] + radius.value ||
                static_cast<double>(box.high[axis]) < at[axis] - radius.value)
                return false;
        return true;
    };
    std::vector<std::size_t> first{0}, size{edges.size()}; // of each level
    while (size.back() > 1) {
        first.push_back(first.back() + size.back());
        size.push_back((size.back() + fan - 1) / fan);
    }
    const auto visit = [&](const auto& self, std::size_t level, std::size_t n) -> void {
        if (!meets(boxes[first[level] + n]))
            return;
        if (level == 0)
            return use(edges[n]);
        for (std::size_t below = n * fan; below < std::min((n + 1) * fan, size[level - 1]); ++below)
            self(self, level - 1, below);
    };
    if (!edges.empty())
        visit(visit, size.size() - 1, 0);
}

} // namespace routing::roads
