#pragma once
/// The fewest nodes that part the two ends of a sorted cell: a unit flow and its cut.

#include <cstdint>
#include <vector>

namespace routing::roads::hierarchy {

/// A small undirected graph; every link stands in it twice.
struct CellGraph {
    std::vector<std::uint32_t> first{}; ///< node count + 1
    std::vector<std::uint32_t> heads{};
    std::vector<std::uint32_t> back{}; ///< the same link seen from its other end

    std::uint32_t size() const { return static_cast<std::uint32_t>(first.size() - 1); }
    /// Fills `back`; heads of each node must be in rising order.
    void link_back();
};

/// Nodes, all on one side of a least cut between the first and the last quarter of `sorted`, whose removal parts what
/// is left of the two. Empty when that needs as many as `limit` links or more.
/// The flow grows path by path (L. R. Ford, D. R. Fulkerson, 1956), in breadth-first phases (E. A. Dinic, 1970).
std::vector<std::uint32_t> flow_separator(const CellGraph& graph, const std::vector<std::uint32_t>& sorted,
                                          std::uint32_t limit);

} // namespace routing::roads::hierarchy
