#pragma once
/// The quickest walks to one spot from places where a van may stand.
///
///     WalkFinder finder(paths, index);
///     const auto walks = finder.walks(waterfall, car_parks, geo::Seconds{3600});
///     if (walks[0]) ... walks[0]->time, walks[0]->line
///
/// Dijkstra's algorithm from the spot over the arcs reversed, so one-ways for walkers hold exactly; it stops past the
/// limit, so a question costs what lies within the limit, not the whole network.
///
/// A walk leaves each end straight for the nearest path, at most 200 m and slower than on a path; the map does not say
/// whether that stretch can be walked. Where paths near an end lie in parts that no path joins, the nearest of each
/// part is tried, up to the nearest one of the network's largest part. Parts are those without closures. Within 30 m of
/// the spot the walk is a straight line. Times are those of the flat, or by the slopes of a SlopePace; off the paths
/// always those of the flat.

#include "routing/roads/closure.hpp"
#include "routing/roads/foot/foot_rules.hpp"
#include "routing/roads/foot/slope_pace.hpp"
#include "routing/roads/network.hpp"
#include "routing/roads/shortest_path.hpp"
#include "routing/roads/snap.hpp"

#include "geo/coordinate.hpp"
#include "geo/units.hpp"

#include <cstdint>
#include <optional>
#include <vector>

namespace routing::roads::foot {

// Our planning figures, no source.
constexpr geo::KilometresPerHour off_path_pace{0.6 * flat_pace.value};
constexpr geo::Metres longest_off_path{200.0}; ///< at each end: what lies farther off, a gorge or a wall, may not show
constexpr geo::Metres within_sight{30.0};      ///< straight to the spot

struct Walk {
    Milliseconds time = 0;      ///< stretches off the paths included
    Milliseconds time_back = 0; ///< the same way from the spot to the place, one-ways for walkers not minded
    geo::Metres length;
    std::vector<geo::Coordinate> line; ///< from the place to the spot; no point twice in a row
    std::uint16_t notes = note_none;   ///< of all its paths: EdgeNote bits
};

/// Keeps its working memory from one question to the next (about 20 bytes a node, 8 an arc). Refers to network and
/// index, which must outlive it,
/// and to the slopes. Not for two threads at once.
class WalkFinder {
public:
    /// Paths of `closed_edges` (one flag an edge, or empty) are neither walked nor joined.
    WalkFinder(const RoadNetwork& foot, const SnapIndex& foot_index, ClosedEdges closed_edges = {},
               SlopePace* slopes = nullptr);

    /// Beside `from`: the quickest walk to the spot; nothing where there is none within `limit`.
    std::vector<std::optional<Walk>> walks(geo::Coordinate spot, const std::vector<geo::Coordinate>& from,
                                           geo::Seconds limit);

private:
    /// Where a walk leaves or joins the paths.
    struct PathEnd {
        RoadPoint point;
        Milliseconds stretch = 0; ///< between there and the place itself
    };
    /// The best way known from a node to the spot; valid when `round` is the current one.
    struct Label {
        Milliseconds time = closed;
        std::uint32_t round = 0;
        std::uint32_t arc = none; ///< next one; none: the spot is on an edge that begins here
        std::uint32_t end = 0;    ///< directed end of the spot: 2 * index in ends, plus 1 against the drawing order
    };

    std::vector<PathEnd> path_ends(geo::Coordinate place) const;
    std::uint32_t part_of(EdgeIndex edge) const;
    bool open_both_ways(EdgeIndex edge) const;
    Milliseconds crossing(EdgeIndex edge, bool forward) const;
    Milliseconds time_of(const PathPiece& piece) const;
    bool is_shut(EdgeIndex edge) const { return !closed_edges_.empty() && closed_edges_[value(edge)]; }
    void search(const std::vector<PathEnd>& ends, Milliseconds limit);
    void offer(std::uint32_t node, std::uint64_t time, std::uint32_t arc, std::uint32_t end, Milliseconds limit);
    std::optional<Walk> walk_from(geo::Coordinate place, geo::Coordinate spot, const std::vector<PathEnd>& ends,
                                  Milliseconds limit) const;

    const RoadNetwork& network_;
    const SnapIndex& index_;
    ClosedEdges closed_edges_;
    SlopePace* slopes_;                   ///< null: level
    std::vector<std::uint32_t> first_in_; ///< [node]: into in_arcs_
    std::vector<std::uint32_t> in_arcs_;  ///< arcs by head
    std::vector<Label> labels_;
    std::uint32_t round_ = 0;
    std::vector<std::uint64_t> queue_; ///< heap of (time, node)
};

} // namespace routing::roads::foot
