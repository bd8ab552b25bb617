#pragma once
/// Least-cost assignment of rows to columns, for the prices it leaves behind.
///
///     const std::vector<std::int64_t> prices = row_prices(costs, n);

#include <cstdint>
#include <vector>

namespace routing::order {

/// Dual prices u of the rows of an n * n assignment (`costs` row by row): with v_j = min_i (c_ij - u_i), the sum of all
/// u and v is the least cost of assigning each row its own column. Whole numbers in, whole numbers out. O(n^3).
/// Shortest augmenting paths (Kuhn 1955, Munkres 1957; in this form from memory).
std::vector<std::int64_t> row_prices(const std::vector<std::int64_t>& costs, std::size_t n);

} // namespace routing::order
