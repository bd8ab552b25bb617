#include "routing/roads/edge_boxes.hpp"

#include "routing/roads/space_curve.hpp"

#include <cmath>
#include <limits>

namespace routing::roads {

namespace {

float not_above(double value) {
    const auto near = static_cast<float>(value);
    return static_cast<double>(near) > value ? std::nextafter(near, -std::numeric_limits<float>::infinity()) : near;
}

float not_below(double value) {
    const auto near = static_cast<float>(value);
    return static_cast<double>(near) < value ? std::nextafter(near, std::numeric_limits<float>::infinity()) : near;
}

constexpr SpaceBox nothing() {
    constexpr float far = std::numeric_limits<float>::infinity();
    return {{far, far, far}, {-far, -far, -far}};
}

void add(SpaceBox& box, const SpaceBox& more) {
    for (std::size_t axis = 0; axis < 3; ++axis) {
        box.low[axis] = std::min(box.low[axis], more.low[axis]);
        box.high[axis] = std::max(box.high[axis], more.high[axis]);
    }
}

SpaceBox box_of(const RoadNetwork& network, const Edge& edge) {
    SpaceBox box = nothing();
    const auto add_point = [&](const SpacePoint& p) {
        add(box, {{not_above(p.x), not_above(p.y), not_above(p.z)}, {not_below(p.x), not_below(p.y), not_below(p.z)}});
    };
    for_each_piece(network, edge, [&](const SpacePoint& from, const SpacePoint& to, std::uint32_t, double, double) {
        add_point(from);
        add_point(to);
    });
    return box;
}

} // namespace

std::size_t box_count(std::size_t edges) {
    std::size_t count = edges;
    for (std::size_t level = edges; level > 1; count += level)
        level = (level + EdgeBoxes::fan - 1) / EdgeBoxes::fan;
    return count;
}

EdgeBoxes find_edge_boxes(const RoadNetwork& network) {
    std::vector<std::pair<std::uint64_t, std::uint32_t>> along;
    for (std::uint32_t e = 0; e < network.edges.size(); ++e) {
        const Edge& edge = network.edges[e];
        if (edge.forward < closed || edge.backward < closed)
            along.emplace_back(place_on_curve(network.shape[(edge.shape_begin + edge.shape_end) / 2]), e);
    }
    std::sort(along.begin(), along.end());

    EdgeBoxes tree;
    tree.edges.reserve(along.size());
    tree.boxes.reserve(box_count(along.size()));
    for (const auto& [place, edge] : along) {
        tree.edges.push_back(edge);
        tree.boxes.push_back(box_of(network, network.edges[edge]));
    }
    std::size_t first = 0;
    for (std::size_t size = along.size(); size > 1;) {
        const std::size_t above = (size + EdgeBoxes::fan - 1) / EdgeBoxes::fan;
        for (std::size_t n = 0; n < above; ++n) {
            SpaceBox box = nothing();
            for (std::size_t below = n * EdgeBoxes::fan; below < std::min((n + 1) * EdgeBoxes::fan, size); ++below)
                add(box, tree.boxes[first + below]);
            tree.boxes.push_back(box);
        }
        first += size;
        size = above;
    }
    return tree;
}

} // namespace routing::roads
