#include "routing/roads/drawn_line.hpp"

#include "routing/roads/edge_geometry.hpp"

#include <boost/geometry.hpp>
#include <boost/geometry/index/rtree.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

namespace routing::roads {

namespace bg = boost::geometry;

namespace {

using BoxPoint = bg::model::point<double, 3, bg::cs::cartesian>;
using SpaceBox = bg::model::box<BoxPoint>;

constexpr geo::Metres longest_stretch{500.0}; // our figure, see the header
/// A degree of latitude is nowhere shorter (WGS 84, at the equator: 110,574 m).
constexpr geo::Metres least_latitude_degree{110'500.0};

struct Stretch {
    SpacePoint from, to;
};

/// Calls `use` with each stretch until it gives true; gives whether it did.
template <typename Use>
bool any_stretch(std::span<const geo::Coordinate> line, const Use& use) {
    for (std::size_t i = 1; i < line.size(); ++i) {
        // The chord is shorter than the way: half round a parallel pi/2 times, which is the most.
        const double length = distance(line[i - 1], line[i]).value * 1.6;
        const auto count = std::max(1, static_cast<int>(std::ceil(length / longest_stretch.value)));
        SpacePoint from = in_space(line[i - 1]);
        for (int n = 1; n <= count; ++n) {
            const SpacePoint to = in_space(point_between(line[i - 1], line[i], static_cast<double>(n) / count));
            if (use(Stretch{from, to}))
                return true;
            from = to;
        }
    }
    return false;
}

SpacePoint minus(const SpacePoint& a, const SpacePoint& b) {
    return {a.x - b.x, a.y - b.y, a.z - b.z};
}

double dot(const SpacePoint& a, const SpacePoint& b) {
    return a.x * b.x + a.y * b.y + a.z * b.z;
}

/// The squared distance is convex over both shares, so it is least where the two lines are nearest to each other, when
/// that lies inside both stretches, and else at an end of one of them.
geo::Metres distance(const Stretch& a, const Stretch& b) {
    geo::Metres least =
        std::min({nearest_on_segment(a.from, b.from, b.to).distance, nearest_on_segment(a.to, b.from, b.to).distance,
                  nearest_on_segment(b.from, a.from, a.to).distance, nearest_on_segment(b.to, a.from, a.to).distance});
    const SpacePoint along_a = minus(a.to, a.from), along_b = minus(b.to, b.from), between = minus(a.from, b.from);
    const double aa = dot(along_a, along_a), bb = dot(along_b, along_b), ab = dot(along_a, along_b);
    const double determinant = aa * bb - ab * ab;
    if (determinant <= 0.0) // parallel: an end is as near as anything between
        return least;
    const double share_a = (ab * dot(along_b, between) - bb * dot(along_a, between)) / determinant;
    const double share_b = (aa * dot(along_b, between) - ab * dot(along_a, between)) / determinant;
    if (share_a <= 0.0 || share_a >= 1.0 || share_b <= 0.0 || share_b >= 1.0)
        return least;
    const SpacePoint on_a{a.from.x + share_a * along_a.x, a.from.y + share_a * along_a.y,
                          a.from.z + share_a * along_a.z};
    const SpacePoint on_b{b.from.x + share_b * along_b.x, b.from.y + share_b * along_b.y,
                          b.from.z + share_b * along_b.z};
    return std::min(least, distance(on_a, on_b));
}

SpaceBox box_around(const Stretch& stretch, geo::Metres margin) {
    const auto [west, east] = std::minmax(stretch.from.x, stretch.to.x);
    const auto [near, far] = std::minmax(stretch.from.y, stretch.to.y);
    const auto [low, high] = std::minmax(stretch.from.z, stretch.to.z);
    return {{west - margin.value, near - margin.value, low - margin.value},
            {east + margin.value, far + margin.value, high + margin.value}};
}

} // namespace

struct DrawnLine::Stretches {
    using Entry = std::pair<SpaceBox, std::size_t>;

    std::vector<Stretch> all;
    bg::index::rtree<Entry, bg::index::rstar<16>> tree; ///< by number in `all`
    geo::Degrees south{90.0}, north{-90.0};
};

DrawnLine::DrawnLine(std::span<const geo::Coordinate> points) {
    auto stretches = std::make_unique<Stretches>();
    for (const geo::Coordinate place : points) {
        stretches->south = std::min(stretches->south, place.latitude);
        stretches->north = std::max(stretches->north, place.latitude);
    }
    std::vector<Stretches::Entry> entries;
    any_stretch(points, [&](const Stretch& stretch) {
        entries.emplace_back(box_around(stretch, geo::Metres{0.0}), stretches->all.size());
        stretches->all.push_back(stretch);
        return false;
    });
    stretches->tree = decltype(stretches->tree)(entries);
    stretches_ = std::move(stretches);
}

DrawnLine::~DrawnLine() = default;
DrawnLine::DrawnLine(DrawnLine&&) noexcept = default;
DrawnLine& DrawnLine::operator=(DrawnLine&&) noexcept = default;

bool DrawnLine::comes_within(std::span<const geo::Coordinate> shape, geo::Metres margin) const {
    // Most roads of a map lie north or south of the line: told apart without a sine.
    const auto [south, north] =
        std::minmax_element(shape.begin(), shape.end(),
                            [](const geo::Coordinate& a, const geo::Coordinate& b) { return a.latitude < b.latitude; });
    const geo::Degrees beside{margin.value / least_latitude_degree.value};
    if (north->latitude < stretches_->south - beside || south->latitude > stretches_->north + beside)
        return false;
    return any_stretch(shape, [&](const Stretch& road) {
        const auto& tree = stretches_->tree;
        return std::any_of(
            tree.qbegin(bg::index::intersects(box_around(road, margin))), tree.qend(),
            [&](const Stretches::Entry& entry) { return distance(road, stretches_->all[entry.second]) <= margin; });
    });
}

geo::Metres DrawnLine::distance_from(std::span<const geo::Coordinate> shape) const {
    geo::Metres least{std::numeric_limits<double>::infinity()};
    any_stretch(shape, [&](const Stretch& road) {
        for (const Stretch& stretch : stretches_->all)
            least = std::min(least, distance(road, stretch));
        return false;
    });
    return least;
}

bool has_length(std::span<const geo::Coordinate> points) {
    return std::any_of(points.begin(), points.end(), [&](const geo::Coordinate& place) {
        return distance(place, points.front()) > geo::Metres{0.0};
    });
}

} // namespace routing::roads
