#include "routing/order/assignment.hpp"

#include <cassert>
#include <limits>

namespace routing::order {

std::vector<std::int64_t> row_prices(const std::vector<std::int64_t>& costs, std::size_t n) {
    assert(costs.size() == n * n);
    constexpr std::size_t none = std::numeric_limits<std::size_t>::max();
    std::vector<std::int64_t> row_price(n, 0);
    std::vector<std::int64_t> column_price(n, 0);
    std::vector<std::size_t> row_of(n, none); // of a column
    for (std::size_t added = 0; added < n; ++added) {
        // A shortest path, in reduced costs, from the new row to a column nobody has.
        std::vector<std::int64_t> least(n, std::numeric_limits<std::int64_t>::max());
        std::vector<std::size_t> before(n, none); // column before, on the path
        std::vector<bool> settled(n, false);
        std::size_t row = added;
        std::size_t last = none;
        while (true) {
            std::size_t nearest = none;
            for (std::size_t c = 0; c < n; ++c) {
                if (settled[c])
                    continue;
                const std::int64_t reduced = costs[row * n + c] - row_price[row] - column_price[c];
                if (reduced < least[c]) {
                    least[c] = reduced;
                    before[c] = last;
                }
                if (nearest == none || least[c] < least[nearest])
                    nearest = c;
            }
            const std::int64_t step = least[nearest];
            row_price[added] += step;
            for (std::size_t c = 0; c < n; ++c) {
                if (settled[c]) {
                    row_price[row_of[c]] += step;
                    column_price[c] -= step;
                } else {
                    least[c] -= step;
                }
            }
            settled[nearest] = true;
            last = nearest;
            if (row_of[last] == none)
                break;
            row = row_of[last];
        }
        for (; before[last] != none; last = before[last])
            row_of[last] = row_of[before[last]];
        row_of[last] = added;
    }
    return row_price;
}

} // namespace routing::order
