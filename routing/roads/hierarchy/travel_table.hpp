#pragma once
/// Exact travel times and paths from a customized hierarchy; the answers of PathFinder, much sooner.
///
///     TravelTable table(metric);
///     const std::vector<Milliseconds> times = table.times(scenes, meals);
///     const auto path = table.quickest_path(base, harbour);
///
/// Many to many by buckets (S. Knopp, P. Sanders, D. Schultes, F. Schulz, D. Wagner, "Computing many-to-many shortest
/// paths using highway hierarchies", ALENEX 2007) over the ancestors in the elimination tree. A path is unpacked by
/// looking for the lower triangle that gives each time; no middle nodes are stored.

#include "routing/roads/hierarchy/leg_ends.hpp"
#include "routing/roads/hierarchy/metric.hpp"
#include "routing/roads/shortest_path.hpp"

#include <optional>
#include <vector>

namespace routing::roads::hierarchy {

/// Refers to the metric, and sees what is shut on it later. Not for two threads at once.
class TravelTable {
public:
    explicit TravelTable(const Metric& metric);

    /// Row by row; `closed` where there is no way.
    std::vector<Milliseconds> times(const std::vector<RoadPoint>& sources, const std::vector<RoadPoint>& targets);
    /// Likewise between any of a source's ends and any of a target's, over roads open to all.
    std::vector<Milliseconds> times_over(const std::vector<std::vector<LegEnd>>& sources,
                                         const std::vector<std::vector<LegEnd>>& targets);
    /// Empty when the point stands on a shut road.
    std::vector<LegEnd> departures(const RoadPoint& from) const;
    std::vector<LegEnd> arrivals(const RoadPoint& to) const;
    /// Of several equally quick ways it may take another one than PathFinder.
    std::optional<Path> quickest_path(const RoadPoint& from, const RoadPoint& to);

private:
    /// Times to (or from) the ancestors of a leg's ends, in rising rank.
    struct Half {
        std::vector<Rank> ranks;
        std::vector<Milliseconds> times;
    };
    /// `tops_only`: `closed` for nodes that no quickest way has as its top.
    Half climb(const std::vector<LegEnd>& ends, Way way, bool tops_only);
    Milliseconds time_on_one_edge(const RoadPoint& from, const RoadPoint& to) const;
    void unpack(UpArc arc, Way way, std::vector<std::uint32_t>& network_arcs) const;
    std::uint32_t descend(Rank top, const std::vector<LegEnd>& ends, const Half& half, Way way,
                          std::vector<UpArc>& up_arcs) const;
    std::vector<PathPiece> pieces_over(Rank top, const RoadPoint& from, const RoadPoint& to,
                                       const std::vector<LegEnd>& starts, const Half& out,
                                       const std::vector<LegEnd>& finishes, const Half& in) const;

    const Metric& metric_;
    LegEnds ends_;
    std::vector<Milliseconds> time_at_; ///< by rank; `closed` between questions
    std::vector<bool> listed_;          ///< by rank; false between questions
    std::vector<std::uint32_t> bucket_; ///< by rank: number of its bucket in the question at hand, or none
};

} // namespace routing::roads::hierarchy
