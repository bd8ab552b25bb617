#include "routing/roads/timed/timed_path.hpp"

#include <algorithm>

namespace routing::roads::timed {

TimedPath drive(const RoadNetwork& network, const ShutTimes& shut, const std::vector<PathPiece>& pieces,
                geo::Instant departure) {
    TimedPath path;
    for (const PathPiece& piece : pieces) {
        const Milliseconds driving = piece_time(network, piece);
        const Milliseconds start = shut.start_after(piece.edge, departure, path.time, driving);
        if (start > path.time) {
            const FineInstant from = FineInstant{departure} + std::chrono::milliseconds{path.time};
            const FineInstant until = shut.earliest_start(piece.edge, from, driving);
            // A piece of no length takes no time, so a wait before the next one goes on from there.
            if (!path.waits.empty() && path.waits.back().piece == path.pieces.size())
                path.waits.back().until = until;
            else
                path.waits.push_back({path.pieces.size(), from, until});
        }
        path.time = std::min(start + driving, closed);
        if (piece.from_fraction == piece.to_fraction)
            continue;
        path.length += piece_length(network, piece);
        path.pieces.push_back(piece);
    }
    return path;
}

std::vector<ShutStretch> stretches_ever_shut(const RoadNetwork& network, const ShutTimes& shut, const RoadPoint& from,
                                             const RoadPoint& to, const Path& path) {
    std::vector<ShutStretch> stretches;
    if (from.edge == to.edge && from.fraction == to.fraction)
        return stretches;
    // A path has no pieces of no length: of a road left or reached at its very end nothing may be driven.
    if (shut.is_ever_shut(from.edge))
        stretches.push_back({from.edge, 0, 0});
    Milliseconds elapsed = 0;
    for (const PathPiece& piece : path.pieces) {
        const Milliseconds driving = piece_time(network, piece);
        if (shut.is_ever_shut(piece.edge))
            stretches.push_back({piece.edge, elapsed, driving});
        elapsed += driving;
    }
    if (shut.is_ever_shut(to.edge))
        stretches.push_back({to.edge, elapsed, 0});
    return stretches;
}

bool need_no_wait(const std::vector<ShutStretch>& stretches, const ShutTimes& shut, geo::Instant departure) {
    return std::all_of(stretches.begin(), stretches.end(), [&](const ShutStretch& stretch) {
        return shut.start_after(stretch.edge, departure, stretch.elapsed, stretch.driving) == stretch.elapsed;
    });
}

} // namespace routing::roads::timed
