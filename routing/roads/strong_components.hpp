#pragma once
/// Strong components of a directed graph: sets of nodes each of which can be reached from each other and left again.
///
/// R. Tarjan, "Depth-first search and linear graph algorithms", SIAM Journal on Computing 1(2), 1972; without
/// recursion, so that a long road can't overflow the stack. O(nodes + arcs).

#include <cstdint>
#include <vector>

namespace routing::roads {

struct Components {
    std::vector<std::uint32_t> of_node; ///< numbered by falling size, equal sizes by their smallest node
    std::vector<std::uint32_t> size;
};

/// The graph in CSR form: heads of node n are heads[first[n]] up to heads[first[n + 1]].
Components strong_components(const std::vector<std::uint32_t>& first, const std::vector<std::uint32_t>& heads);

} // namespace routing::roads
