#include "routing/roads/timed/roads_in_play.hpp"

#include <algorithm>
#include <cstdint>

namespace routing::roads::timed {

namespace {

using hierarchy::LegEnd;
using Ends = std::vector<std::vector<LegEnd>>;

constexpr int most_rounds = 24; // roads shut one behind the other take a round each

class PlayFinder {
public:
    PlayFinder(hierarchy::Metric& metric, const std::vector<RoadPoint>& sources, const std::vector<RoadPoint>& targets)
        : metric_(metric), network_(metric.network()), sources_(sources), targets_(targets), ways_(metric) {}

    std::vector<EdgeIndex> run(const ShutTimes& shut, std::size_t most_arcs) {
        if (!choose_candidates(shut))
            return candidates_;
        std::vector<EdgeIndex> in_play = stood_on();
        for (int round = 0; round < most_rounds && arc_count(in_play) <= most_arcs; ++round) {
            const std::vector<EdgeIndex> more = on_quicker_ways(in_play);
            if (more.empty())
                return in_play;
            in_play.insert(in_play.end(), more.begin(), more.end());
            std::sort(in_play.begin(), in_play.end());
        }
        return candidates_;
    }

private:
    /// False when one is for destination traffic only.
    bool choose_candidates(const ShutTimes& shut) {
        const std::vector<bool> in_a_patch = patches();
        bool open_to_all = true;
        for (const EdgeIndex edge : shut.edges_ever_shut()) {
            const bool destination_only = network_.edges[value(edge)].destination_only;
            if (metric_.is_shut(edge) || (destination_only && !meets(in_a_patch, edge)))
                continue;
            candidates_.push_back(edge);
            open_to_all = open_to_all && !destination_only;
        }
        return open_to_all;
    }

    /// Nodes that legs from and to the stops meet on destination-only roads.
    std::vector<bool> patches() const {
        std::vector<bool> in_a_patch(network_.node_count(), false);
        const auto mark = [&](const std::vector<RoadPoint>& stops, const auto& ends_of) {
            for (const RoadPoint& stop : stops)
                if (network_.edges[value(stop.edge)].destination_only)
                    for (const LegEnd& end : ends_of(stop))
                        in_a_patch[end.node] = true;
        };
        mark(sources_, [&](const RoadPoint& stop) { return ways_.departures(stop); });
        mark(targets_, [&](const RoadPoint& stop) { return ways_.arrivals(stop); });
        return in_a_patch;
    }

    template <class Use>
    void for_arcs(EdgeIndex edge, const Use& use) const {
        for (const bool forward : {true, false})
            for (const std::uint32_t arc : network_.arcs_along(edge, forward))
                use(arc);
    }

    bool meets(const std::vector<bool>& nodes, EdgeIndex edge) const {
        bool found = false;
        for_arcs(edge, [&](std::uint32_t arc) {
            found = found || nodes[network_.tail[arc]] || nodes[value(network_.arcs[arc].head)];
        });
        return found;
    }

    std::size_t arc_count(const std::vector<EdgeIndex>& edges) const {
        std::size_t count = 0;
        for (const EdgeIndex edge : edges)
            for_arcs(edge, [&](std::uint32_t) { ++count; });
        return count;
    }

    std::vector<EdgeIndex> stood_on() const {
        std::vector<EdgeIndex> edges;
        for (const auto* stops : {&sources_, &targets_})
            for (const RoadPoint& stop : *stops)
                if (std::binary_search(candidates_.begin(), candidates_.end(), stop.edge))
                    edges.push_back(stop.edge);
        std::sort(edges.begin(), edges.end());
        edges.erase(std::unique(edges.begin(), edges.end()), edges.end());
        return edges;
    }

    /// Where stretches that avoid the roads in play begin and end.
    struct Stretches {
        Ends starts, finishes;
    };
    Stretches stretches(const std::vector<EdgeIndex>& in_play) const {
        Stretches all;
        for (const RoadPoint& source : sources_)
            all.starts.push_back(ways_.departures(source));
        for (const RoadPoint& target : targets_)
            all.finishes.push_back(ways_.arrivals(target));
        for (const EdgeIndex edge : in_play)
            for_arcs(edge, [&](std::uint32_t arc) {
                all.starts.push_back({{value(network_.arcs[arc].head), 0}});
                all.finishes.push_back({{network_.tail[arc], 0}});
            });
        return all;
    }

    /// Candidates not in play that shorten a stretch, on its quickest ways.
    std::vector<EdgeIndex> on_quicker_ways(const std::vector<EdgeIndex>& in_play) {
        std::vector<std::uint32_t> arcs; // those of one edge beside each other
        Ends tails, heads;
        for (const EdgeIndex edge : candidates_)
            if (!std::binary_search(in_play.begin(), in_play.end(), edge))
                for_arcs(edge, [&](std::uint32_t arc) {
                    arcs.push_back(arc);
                    tails.push_back({{network_.tail[arc], 0}});
                    heads.push_back({{value(network_.arcs[arc].head), 0}});
                });
        metric_.shut(candidates_);
        const Stretches shut_ends = stretches(in_play);
        const std::vector<Milliseconds> longest = ways_.times_over(shut_ends.starts, shut_ends.finishes);
        metric_.reopen();
        metric_.shut(in_play);
        const auto [starts, finishes] = stretches(in_play);
        const std::vector<Milliseconds> least = ways_.times_over(starts, finishes);
        const std::vector<Milliseconds> out = ways_.times_over(starts, tails);
        const std::vector<Milliseconds> in = ways_.times_over(heads, finishes);
        metric_.reopen();
        const auto shortens = [&](std::size_t arc) {
            for (std::size_t start = 0; start < starts.size(); ++start) {
                const std::uint64_t behind =
                    std::uint64_t{out[start * arcs.size() + arc]} + network_.arcs[arcs[arc]].time;
                for (std::size_t finish = 0; finish < finishes.size() && behind < closed; ++finish) {
                    const std::size_t pair = start * finishes.size() + finish;
                    if (least[pair] < longest[pair] && behind + in[arc * finishes.size() + finish] == least[pair])
                        return true;
                }
            }
            return false;
        };
        std::vector<EdgeIndex> found;
        for (std::size_t arc = 0; arc < arcs.size(); ++arc) {
            const EdgeIndex edge = network_.arcs[arcs[arc]].edge;
            if ((found.empty() || found.back() != edge) && shortens(arc))
                found.push_back(edge);
        }
        return found;
    }

    hierarchy::Metric& metric_;
    const RoadNetwork& network_;
    const std::vector<RoadPoint>& sources_;
    const std::vector<RoadPoint>& targets_;
    hierarchy::TravelTable ways_;
    std::vector<EdgeIndex> candidates_; ///< by rising index
};

} // namespace

std::vector<EdgeIndex> roads_in_play(hierarchy::Metric& metric, const ShutTimes& shut,
                                     const std::vector<RoadPoint>& sources, const std::vector<RoadPoint>& targets,
                                     std::size_t most_arcs) {
    return PlayFinder{metric, sources, targets}.run(shut, most_arcs);
}

} // namespace routing::roads::timed
