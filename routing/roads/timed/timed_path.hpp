#pragma once
/// A path with the waits that closures in force for a time bring, and where a path runs on roads ever shut.
///
///     const auto path = finder.quickest(base, harbour, departure);
///     for (const Wait& wait : path->waits) ... // before path->pieces[wait.piece]

#include "routing/roads/shortest_path.hpp"
#include "routing/roads/timed/shut_times.hpp"

#include <cstddef>
#include <vector>

namespace routing::roads::timed {

/// Standing before a road until it reopens.
struct Wait {
    std::size_t piece =
        0; ///< the piece waited before; the number of pieces: at the end, for a road of which none is driven
    FineInstant from;
    FineInstant until;
    friend bool operator==(const Wait&, const Wait&) = default;
};

struct TimedPath {
    Milliseconds time = 0; ///< driving and waiting
    geo::Metres length;
    std::vector<PathPiece> pieces; ///< none of no length; empty when start and end are one point
    std::vector<Wait> waits;       ///< in order; at most one before a piece
};

/// Drives the pieces as early as the rule of shut_times.hpp lets, from `departure`. Pieces of no length are obeyed, and
/// left out of the result. `closed` as time when it comes to that or more.
TimedPath drive(const RoadNetwork& network, const ShutTimes& shut, const std::vector<PathPiece>& pieces,
                geo::Instant departure);

/// A drive on a road that is shut at some time.
struct ShutStretch {
    EdgeIndex edge{};
    Milliseconds elapsed = 0; ///< since departure, on a path without waits
    Milliseconds driving = 0;
};

/// Where a path without waits runs on roads ever shut, the roads its ends stand on included.
std::vector<ShutStretch> stretches_ever_shut(const RoadNetwork& network, const ShutTimes& shut, const RoadPoint& from,
                                             const RoadPoint& to, const Path& path);
/// True when a van that leaves at `departure` need not wait for any of them.
bool need_no_wait(const std::vector<ShutStretch>& stretches, const ShutTimes& shut, geo::Instant departure);

} // namespace routing::roads::timed
