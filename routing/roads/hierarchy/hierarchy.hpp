#pragma once
/// The shape of a customizable contraction hierarchy: which shortcuts a road graph needs, whatever its times are.
///
///     const Hierarchy shape = build_hierarchy(network, elimination_order(network));
///     Metric times(shape, network, closed_edges);
///
/// Nodes are known by rank, their place in the order of elimination. Each node's up-arcs lead to higher ranks and stand
/// for both directions. J. Dibbelt, B. Strasser, D. Wagner, "Customizable Contraction Hierarchies", ACM Journal of
/// Experimental Algorithmics 21 (2016). Independent of vehicle times, wishes and closures; see metric.hpp for these.

#include "routing/roads/network.hpp"

#include <cstdint>
#include <span>
#include <vector>

namespace routing::roads::hierarchy {

using Rank = std::uint32_t;
using UpArc = std::uint32_t;

/// An up-arc's direction: towards the higher rank, or from there down.
enum class Way : std::uint32_t { up = 0, down = 1 };

struct Hierarchy {
    std::vector<Rank> rank;                 ///< of each network node
    std::vector<std::uint32_t> first;       ///< rank count + 1: up-arcs of rank r are [first[r], first[r+1])
    std::vector<Rank> head;                 ///< of each up-arc, rising within a node
    std::vector<Rank> tail;                 ///< of each up-arc
    std::vector<Rank> parent;               ///< lowest up-neighbour; none at a root
    std::vector<std::uint32_t> first_below; ///< rank count + 1
    std::vector<UpArc> below;               ///< up-arcs that lead to the rank, by rising tail
    /// Network arcs that an up-arc stands for: those of arc a and way w are [first_input[2a+w], first_input[2a+w+1]).
    std::vector<std::uint32_t> first_input;
    std::vector<std::uint32_t> inputs;
    std::vector<std::uint32_t> slot; ///< 2a+w of each network arc; none for one that leads to its own node

    Rank size() const { return static_cast<Rank>(parent.size()); }
    std::span<const std::uint32_t> inputs_of(std::uint32_t slot_number) const {
        return {inputs.data() + first_input[slot_number], inputs.data() + first_input[slot_number + 1]};
    }
    /// The up-arc between two ranks, low < high; none when there is none.
    UpArc between(Rank low, Rank high) const;
};

/// The costly part, by dissection.hpp: network nodes in the order of elimination.
std::vector<std::uint32_t> elimination_order(const RoadNetwork& network);

/// `order` names every node once; any order gives exact answers, a bad one slow ones.
Hierarchy build_hierarchy(const RoadNetwork& network, const std::vector<std::uint32_t>& order);

} // namespace routing::roads::hierarchy
