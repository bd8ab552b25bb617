#include "routing/roads/strong_components.hpp"

#include <algorithm>
#include <limits>
#include <numeric>

namespace routing::roads {
namespace {

constexpr std::uint32_t unset = std::numeric_limits<std::uint32_t>::max();

/// Component of each node, numbered as they are found.
std::uint32_t tarjan(const std::vector<std::uint32_t>& first, const std::vector<std::uint32_t>& heads,
                     std::vector<std::uint32_t>& component) {
    const auto count = static_cast<std::uint32_t>(first.size() - 1);
    std::vector<std::uint32_t> order(count, unset);
    std::vector<std::uint32_t> low(count, unset);
    std::vector<std::uint32_t> next_arc(first.begin(), first.end() - 1);
    std::vector<std::uint32_t> path;    // the depth-first walk
    std::vector<std::uint32_t> waiting; // nodes not yet in a component
    std::uint32_t visited = 0;
    std::uint32_t found = 0;
    for (std::uint32_t root = 0; root < count; ++root) {
        if (order[root] != unset)
            continue;
        path.push_back(root);
        while (!path.empty()) {
            const std::uint32_t node = path.back();
            if (order[node] == unset) {
                order[node] = low[node] = visited++;
                waiting.push_back(node);
            }
            if (next_arc[node] < first[node + 1]) {
                const std::uint32_t head = heads[next_arc[node]++];
                if (order[head] == unset)
                    path.push_back(head);
                else if (component[head] == unset)
                    low[node] = std::min(low[node], order[head]);
                continue;
            }
            path.pop_back();
            if (!path.empty())
                low[path.back()] = std::min(low[path.back()], low[node]);
            if (low[node] != order[node])
                continue;
            while (true) {
                const std::uint32_t member = waiting.back();
                waiting.pop_back();
                component[member] = found;
                if (member == node)
                    break;
            }
            ++found;
        }
    }
    return found;
}

} // namespace

Components strong_components(const std::vector<std::uint32_t>& first, const std::vector<std::uint32_t>& heads) {
    Components result;
    result.of_node.assign(first.size() - 1, unset);
    const std::uint32_t found = tarjan(first, heads, result.of_node);

    std::vector<std::uint32_t> size(found, 0);
    std::vector<std::uint32_t> smallest(found, unset);
    for (std::uint32_t node = 0; node < result.of_node.size(); ++node) {
        const std::uint32_t c = result.of_node[node];
        ++size[c];
        smallest[c] = std::min(smallest[c], node);
    }
    std::vector<std::uint32_t> by_size(found);
    std::iota(by_size.begin(), by_size.end(), 0U);
    std::sort(by_size.begin(), by_size.end(), [&](std::uint32_t a, std::uint32_t b) {
        return size[a] != size[b] ? size[a] > size[b] : smallest[a] < smallest[b];
    });
    std::vector<std::uint32_t> new_number(found);
    for (std::uint32_t rank = 0; rank < found; ++rank) {
        new_number[by_size[rank]] = rank;
        result.size.push_back(size[by_size[rank]]);
    }
    for (std::uint32_t& c : result.of_node)
        c = new_number[c];
    return result;
}

} // namespace routing::roads
