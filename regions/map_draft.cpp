#include "regions/map_draft.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <set>
#include <stdexcept>
#include <string_view>

namespace regions {

std::string Way::tag(const std::string& key) const {
    const auto found = tags.find(key);
    return found == tags.end() ? std::string{} : found->second;
}

NodeId MapDraft::add_node(Spot at, TagMap tags) {
    const NodeId id = next_node_++;
    nodes_.emplace(id, Node{at, std::move(tags), true});
    return id;
}

WayId MapDraft::add_way(std::vector<NodeId> nodes, TagMap tags) {
    assert(nodes.size() >= 2);
    const WayId id = next_way_++;
    ways_.emplace(id, Way{std::move(nodes), std::move(tags)});
    return id;
}

std::int64_t MapDraft::add_relation(std::vector<Member> members, TagMap tags) {
    const std::int64_t id = next_relation_++;
    relations_.emplace(id, Relation{std::move(members), std::move(tags)});
    return id;
}

Line MapDraft::line_of(const Way& way) const {
    Line line;
    for (const NodeId id : way.nodes)
        line.push_back(node(id).at);
    return line;
}

std::optional<NodeId> MapDraft::nearest_node(Spot spot, const std::function<bool(const Way&)>& wanted) const {
    std::optional<NodeId> best;
    double least = 1e18;
    for (const auto& [id, way] : ways_) {
        if (!wanted(way))
            continue;
        for (const NodeId candidate : way.nodes) {
            const double away = distance(node(candidate).at, spot);
            if (away < least) {
                least = away;
                best = candidate;
            }
        }
    }
    return best;
}

NodeId MapDraft::node_on_nearest(Spot spot, const std::function<bool(const Way&)>& wanted, double reach) {
    std::optional<WayId> best;
    LinePoint foot;
    foot.away = 1e18;
    for (const auto& [id, way] : ways_) {
        if (!wanted(way))
            continue;
        const LinePoint candidate = nearest_on(line_of(way), spot);
        if (candidate.away < foot.away) {
            foot = candidate;
            best = id;
        }
    }
    if (!best)
        throw std::logic_error("no way to put a node on");
    const Way& chosen = way(*best);
    for (const std::size_t end : {foot.segment, foot.segment + 1})
        if (distance(node(chosen.nodes[end]).at, foot.at) <= reach)
            return chosen.nodes[end];
    return insert_node(*best, foot.segment, foot.at);
}

NodeId MapDraft::insert_node(WayId way_id, std::size_t segment, Spot at) {
    const NodeId id = add_node(at);
    insert_existing(way_id, segment, id);
    return id;
}

void MapDraft::insert_existing(WayId way_id, std::size_t segment, NodeId id) {
    auto& list = way(way_id).nodes;
    list.insert(list.begin() + static_cast<std::ptrdiff_t>(segment) + 1, id);
}

std::optional<WayId> MapDraft::split(WayId way_id, std::size_t at) {
    Way& first = way(way_id);
    if (at == 0 || at + 1 >= first.nodes.size())
        return std::nullopt;
    std::vector<NodeId> behind(first.nodes.begin() + static_cast<std::ptrdiff_t>(at), first.nodes.end());
    first.nodes.resize(at + 1);
    TagMap tags = first.tags;
    return add_way(std::move(behind), std::move(tags));
}

WayId MapDraft::way_between(NodeId at, NodeId next) {
    for (const WayId id : ways_at(at)) {
        if (!is_road(way(id)))
            continue;
        const auto& list = way(id).nodes;
        for (std::size_t i = 0; i + 1 < list.size(); ++i) {
            if (list[i] == at && list[i + 1] == next)
                return split(id, i).value_or(id);
            if (list[i] == next && list[i + 1] == at) {
                split(id, i + 1);
                return id;
            }
        }
    }
    throw std::logic_error("no way joins these nodes");
}

void MapDraft::drop_unused_nodes() {
    std::set<NodeId> used;
    for (const auto& [id, way] : ways_)
        used.insert(way.nodes.begin(), way.nodes.end());
    std::erase_if(nodes_, [&](const auto& entry) { return entry.second.tags.empty() && !used.contains(entry.first); });
}

std::vector<WayId> MapDraft::ways_at(NodeId at) const {
    std::vector<WayId> found;
    for (const auto& [id, way] : ways_)
        if (std::ranges::find(way.nodes, at) != way.nodes.end())
            found.push_back(id);
    return found;
}

bool is_road(const Way& way) {
    return way.tags.contains("highway");
}

bool is_car_road(const Way& way) {
    constexpr std::array<std::string_view, 9> classes{
        "primary", "secondary", "tertiary", "unclassified", "residential", "living_street", "service", "track", "road"};
    return std::ranges::find(classes, way.tag("highway")) != classes.end();
}

} // namespace regions
