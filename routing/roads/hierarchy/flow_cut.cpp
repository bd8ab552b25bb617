#include "routing/roads/hierarchy/flow_cut.hpp"

#include <algorithm>
#include <cassert>

namespace routing::roads::hierarchy {

namespace {

constexpr std::uint32_t unmet = static_cast<std::uint32_t>(-1);

/// Unit capacity on each link, either way.
class UnitFlow {
public:
    UnitFlow(const CellGraph& graph, const std::vector<std::uint32_t>& sorted)
        : graph_(graph), flow_(graph.heads.size(), 0), level_(graph.size()), next_(graph.size()),
          is_sink_(graph.size(), false) {
        const std::size_t quarter = std::max<std::size_t>(1, sorted.size() / 4);
        sources_.assign(sorted.begin(), sorted.begin() + static_cast<std::ptrdiff_t>(quarter));
        for (std::size_t n = sorted.size() - quarter; n < sorted.size(); ++n)
            is_sink_[sorted[n]] = true;
    }

    /// False when `limit` is reached.
    bool fill(std::uint32_t limit) {
        std::uint32_t value = 0;
        while (find_levels()) {
            for (std::uint32_t node = 0; node < graph_.size(); ++node)
                next_[node] = graph_.first[node];
            for (const std::uint32_t source : sources_)
                while (push_path(source))
                    if (++value >= limit)
                        return false;
        }
        return true;
    }

    /// After fill: nodes still joined to the sources.
    bool on_source_side(std::uint32_t node) const { return level_[node] != unmet; }

private:
    bool find_levels() {
        std::fill(level_.begin(), level_.end(), unmet);
        queue_ = sources_;
        for (const std::uint32_t source : sources_)
            level_[source] = 0;
        bool sink_met = false;
        for (std::size_t at = 0; at < queue_.size(); ++at) {
            const std::uint32_t node = queue_[at];
            for (std::uint32_t arc = graph_.first[node]; arc < graph_.first[node + 1]; ++arc) {
                const std::uint32_t head = graph_.heads[arc];
                if (flow_[arc] >= 1 || level_[head] != unmet)
                    continue;
                level_[head] = level_[node] + 1;
                sink_met = sink_met || is_sink_[head];
                queue_.push_back(head);
            }
        }
        return sink_met;
    }

    /// One path from `source` down the levels to a sink; without recursion, since paths can be long.
    bool push_path(std::uint32_t source) {
        path_.clear();
        std::uint32_t node = source;
        for (;;) {
            if (is_sink_[node]) {
                for (const std::uint32_t arc : path_) {
                    ++flow_[arc];
                    --flow_[graph_.back[arc]];
                }
                return true;
            }
            std::uint32_t& arc = next_[node];
            while (arc < graph_.first[node + 1] && (flow_[arc] >= 1 || level_[graph_.heads[arc]] != level_[node] + 1))
                ++arc;
            if (arc < graph_.first[node + 1]) {
                path_.push_back(arc);
                node = graph_.heads[arc];
                continue;
            }
            if (path_.empty())
                return false;
            node = graph_.heads[graph_.back[path_.back()]];
            path_.pop_back();
            ++next_[node];
        }
    }

    const CellGraph& graph_;
    std::vector<std::int8_t> flow_;
    std::vector<std::uint32_t> level_;
    std::vector<std::uint32_t> next_;
    std::vector<bool> is_sink_;
    std::vector<std::uint32_t> sources_;
    std::vector<std::uint32_t> queue_;
    std::vector<std::uint32_t> path_;
};

} // namespace

void CellGraph::link_back() {
    back.resize(heads.size());
    for (std::uint32_t node = 0; node < size(); ++node)
        for (std::uint32_t arc = first[node]; arc < first[node + 1]; ++arc) {
            const auto begin = heads.begin() + first[heads[arc]];
            const auto end = heads.begin() + first[heads[arc] + 1];
            const auto found = std::lower_bound(begin, end, node);
            assert(found != end && *found == node);
            back[arc] = static_cast<std::uint32_t>(found - heads.begin());
        }
}

std::vector<std::uint32_t> flow_separator(const CellGraph& graph, const std::vector<std::uint32_t>& sorted,
                                          std::uint32_t limit) {
    UnitFlow flow(graph, sorted);
    if (!flow.fill(limit))
        return {};
    // Either end of every cut link will do; the side with fewer ends makes the smaller separator.
    std::vector<std::uint32_t> near;
    std::vector<std::uint32_t> far;
    for (std::uint32_t node = 0; node < graph.size(); ++node) {
        bool cut = false;
        for (std::uint32_t arc = graph.first[node]; arc < graph.first[node + 1]; ++arc)
            cut = cut || flow.on_source_side(node) != flow.on_source_side(graph.heads[arc]);
        if (cut)
            (flow.on_source_side(node) ? near : far).push_back(node);
    }
    return near.size() <= far.size() ? near : far;
}

} // namespace routing::roads::hierarchy
