#pragma once
/// Walks a path under closures in force for a time, against the closures as they were given, one by one.

#include "path_walk.hpp"
#include "routing/roads/timed/timed_path.hpp"

#include <string>
#include <vector>

namespace support {

namespace timed = routing::roads::timed;

inline bool is_on_shut_road(const std::vector<timed::TimedClosure>& closures, roads::EdgeIndex edge,
                            timed::FineInstant begin, timed::FineInstant end) {
    for (const timed::TimedClosure& closure : closures)
        for (const roads::EdgeIndex shut : closure.edges)
            if (shut == edge && closure.shut.from < closure.shut.until && end > closure.shut.from &&
                begin < closure.shut.until)
                return true;
    return false;
}

/// Empty when a van leaving at `departure` could drive the path as told: a path as fault_of wants it, no drive on a
/// road while it is shut, waits where the drive stands, all adding up.
inline std::string timed_fault_of(const roads::RoadNetwork& network, const TurnRules& rules,
                                  const roads::RoadPoint& from, const roads::RoadPoint& to,
                                  const timed::TimedPath& path, const std::vector<timed::TimedClosure>& closures,
                                  geo::Instant departure, const roads::ClosedEdges& closed_edges = {}) {
    timed::FineInstant now = departure;
    roads::Path driven{0, path.length, path.pieces};
    std::size_t next_wait = 0;
    const auto wait_before = [&](std::size_t piece) -> std::string {
        if (next_wait == path.waits.size() || path.waits[next_wait].piece != piece)
            return "";
        const timed::Wait& wait = path.waits[next_wait++];
        if (wait.from != now || wait.until <= wait.from)
            return "wait " + std::to_string(next_wait - 1) + " does not begin when the van is there, or has no length";
        now = wait.until;
        return "";
    };
    for (std::size_t i = 0; i < path.pieces.size(); ++i) {
        if (const std::string fault = wait_before(i); !fault.empty())
            return fault;
        const roads::Milliseconds time = roads::piece_time(network, path.pieces[i]);
        const timed::FineInstant end = now + std::chrono::milliseconds{time};
        if (is_on_shut_road(closures, path.pieces[i].edge, now, end))
            return "piece " + std::to_string(i) + " is driven while shut";
        now = end;
        driven.time += time;
    }
    if (const std::string fault = wait_before(path.pieces.size()); !fault.empty())
        return fault;
    if (next_wait != path.waits.size())
        return "a wait belongs to no piece";
    if (now - departure != std::chrono::milliseconds{path.time})
        return "drives and waits don't add up to " + std::to_string(path.time);
    return fault_of(network, rules, from, to, driven, closed_edges);
}

} // namespace support
