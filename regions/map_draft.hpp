#pragma once
/// The map while it is drawn: nodes, ways and relations with their tags, in local metres.
///
///     MapDraft map;
///     const WayId lane = map.add_way({map.add_node(a), map.add_node(b)}, {{"highway", "residential"}});

#include "regions/spot.hpp"

#include <compare>
#include <cstdint>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

namespace regions {

using NodeId = std::int64_t;
using WayId = std::int64_t;
using TagMap = std::map<std::string, std::string>;

struct Node {
    Spot at;
    TagMap tags;
    bool written = true; ///< false: left out of the file on purpose
};

struct Way {
    std::vector<NodeId> nodes;
    TagMap tags;
    /// Value of a tag, empty when absent.
    std::string tag(const std::string& key) const;
};

struct Member {
    char type = 'w'; ///< n, w, r
    std::int64_t id = 0;
    std::string role;
};

struct Relation {
    std::vector<Member> members;
    TagMap tags;
};

class MapDraft {
public:
    NodeId add_node(Spot at, TagMap tags = {});
    WayId add_way(std::vector<NodeId> nodes, TagMap tags);
    std::int64_t add_relation(std::vector<Member> members, TagMap tags);

    Node& node(NodeId id) { return nodes_.at(id); }
    const Node& node(NodeId id) const { return nodes_.at(id); }
    Way& way(WayId id) { return ways_.at(id); }
    const Way& way(WayId id) const { return ways_.at(id); }
    const std::map<NodeId, Node>& nodes() const { return nodes_; }
    const std::map<WayId, Way>& ways() const { return ways_; }
    const std::map<std::int64_t, Relation>& relations() const { return relations_; }

    Line line_of(const Way& way) const;
    /// Nearest node of the ways that `wanted` accepts; nothing when none is.
    std::optional<NodeId> nearest_node(Spot spot, const std::function<bool(const Way&)>& wanted) const;
    /// A node on the nearest line of those ways: an old one within `reach` metres of the foot point, else a new one.
    NodeId node_on_nearest(Spot spot, const std::function<bool(const Way&)>& wanted, double reach = 25.0);
    /// Puts a new node into a way after its node number `segment`.
    NodeId insert_node(WayId way, std::size_t segment, Spot at);
    /// Puts an existing node into a way after its node number `segment`.
    void insert_existing(WayId way, std::size_t segment, NodeId node);
    /// Cuts a way at one of its inner nodes; the part behind gets the new id that is returned. Nothing at an end.
    std::optional<WayId> split(WayId way, std::size_t at);
    /// The way that ends at `node` and comes from its neighbour `next`, cut there if it runs through.
    WayId way_between(NodeId node, NodeId next);
    /// Forgets nodes without tags that no way uses any more.
    void drop_unused_nodes();
    /// Ways that touch a node.
    std::vector<WayId> ways_at(NodeId node) const;

private:
    // Beyond 2^32 like today's OpenStreetMap, so that a reader with narrow ids shows itself.
    NodeId next_node_ = 9'100'000'001;
    WayId next_way_ = 1'400'000'001;
    std::int64_t next_relation_ = 21'000'001;
    std::map<NodeId, Node> nodes_;
    std::map<WayId, Way> ways_;
    std::map<std::int64_t, Relation> relations_;
};

/// highway=* that is a line people move on.
bool is_road(const Way& way);
/// A road a car may use by its class alone.
bool is_car_road(const Way& way);

} // namespace regions
