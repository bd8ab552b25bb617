#pragma once
/// Exact quickest paths for the van between points on roads.
///
///     PathFinder finder(network);
///     const auto table = finder.travel_times(scenes, meals);
///     const auto path = finder.quickest_path(base, harbour, closed_edges);
///
/// Dijkstra's algorithm over (node, zone state). Destination-only stretches may open or end a path, never stand in the
/// middle: states run leaving -> open -> entering. O((n + m) log n) a source; the whole component is searched when a
/// target can't be reached.
///
/// Points lie on edges, and the van may set off and arrive in either direction the edge allows; a stop is the one place
/// where it may turn round on the road. A point at the very end of an edge still belongs to that edge: leaving it obeys
/// the turns allowed from there. A point on a closed edge can neither be left nor reached, save from itself.

#include "routing/roads/closure.hpp"
#include "routing/roads/network.hpp"
#include "routing/roads/snap.hpp"

#include <cstddef>
#include <optional>
#include <vector>

namespace routing::roads {

/// A stretch of an edge on a path.
struct PathPiece {
    EdgeIndex edge{};
    bool forward = true;
    double from_fraction = 0.0; ///< in driving direction: 0 at the end the van enters by
    double to_fraction = 1.0;
};

struct Path {
    Milliseconds time = 0; ///< the sum of piece_time over the pieces
    geo::Metres length;
    std::vector<PathPiece> pieces; ///< none of no length; empty when start and end are one point
};

/// One road name, driven without a break.
struct RoadStretch {
    std::string name; ///< empty for an unnamed road
    geo::Metres length;
    Milliseconds time = 0;
    std::uint16_t notes = 0;
};

/// Share of its edge between the end the van enters by and the point.
double driven_fraction(const RoadPoint& point, bool forward);
/// Time from the end an edge is entered by to `fraction` of it, rounded to the nearest millisecond. Times of parts are
/// differences of this, so the parts of an edge add up to its crossing time.
Milliseconds time_to_fraction(Milliseconds crossing_time, double fraction);
Milliseconds piece_time(const RoadNetwork& network, const PathPiece& piece);
geo::Metres piece_length(const RoadNetwork& network, const PathPiece& piece);

/// Finds paths on one network, keeping its working memory from one question to the next (about 50 bytes a node and 20
/// an edge). Refers to the network, which must outlive it. Not for two threads at once.
class PathFinder {
public:
    explicit PathFinder(const RoadNetwork& network);

    /// Nothing when there is no way. Ties go the same way on every machine.
    std::optional<Path> quickest_path(const RoadPoint& from, const RoadPoint& to, const ClosedEdges& closed_edges = {});

    /// Times from each source to each target, row by row; `closed` where there is no way. Equal to quickest_path for
    /// every pair.
    std::vector<Milliseconds> travel_times(const std::vector<RoadPoint>& sources, const std::vector<RoadPoint>& targets,
                                           const ClosedEdges& closed_edges = {});

private:
    /// The best way known to a node in one zone state; valid when `round` is the current one.
    struct Label {
        Milliseconds time = closed;
        std::uint32_t round = 0;
        std::uint32_t parent = none; ///< label the last arc starts from
        std::uint32_t arc = none;    ///< none: the first label, at the end of the source's own edge
    };
    struct Target {
        Milliseconds time = closed;
        std::uint32_t parent = none; ///< label the last piece starts from; none: the source itself
        bool forward = true;
        bool reached = false;
    };

    bool is_closed(std::uint32_t edge) const { return closed_edges_ && (*closed_edges_)[edge]; }
    void set_targets(const std::vector<RoadPoint>& targets);
    void search(const RoadPoint& source, const std::vector<RoadPoint>& targets);
    void seed(const RoadPoint& source, bool forward, const std::vector<RoadPoint>& targets);
    void offer(std::uint32_t label, Milliseconds time, std::uint32_t parent, std::uint32_t arc);
    void offer_target(std::uint32_t target, Milliseconds time, std::uint32_t parent, bool forward);
    void scan(std::uint32_t label, const std::vector<RoadPoint>& targets);
    Path unwind(const RoadPoint& from, const RoadPoint& to) const;

    const RoadNetwork& network_;
    const ClosedEdges* closed_edges_ = nullptr;
    std::vector<Label> labels_; ///< [3 * node + zone state]
    std::vector<std::uint32_t> settled_round_;
    std::vector<std::uint8_t> settled_state_;
    std::uint32_t round_ = 0;
    std::vector<std::uint32_t> first_target_; ///< [edge]: first target on it, none mostly
    std::vector<std::uint32_t> marked_edges_;
    std::vector<std::uint32_t> next_target_; ///< [target]: next one on the same edge
    std::vector<Target> targets_;
    std::vector<std::uint64_t> queue_; ///< heap of (time, label or target)
};

/// One question on a fresh PathFinder.
std::optional<Path> quickest_path(const RoadNetwork& network, const RoadPoint& from, const RoadPoint& to,
                                  const ClosedEdges& closed_edges = {});
std::vector<Milliseconds> travel_times(const RoadNetwork& network, const std::vector<RoadPoint>& sources,
                                       const std::vector<RoadPoint>& targets, const ClosedEdges& closed_edges = {});

/// The line driven, longitudes and latitudes as mapped; no point twice in a row. Empty for a path of no length.
std::vector<geo::Coordinate> path_line(const RoadNetwork& network, const Path& path);

/// Names along the path, merged while the name stays. An unnamed stretch under 30 m (a junction's inside, a short link)
/// joins the stretch before it, or the one after it at the start. Lengths and times add up to the path's.
std::vector<RoadStretch> road_stretches(const RoadNetwork& network, const Path& path);

} // namespace routing::roads
