#pragma once
/// The known name a misspelt one probably means, for error messages.
///
///     geo::nearest_name("golden-evning", names) // "golden-evening"

#include <string>
#include <string_view>
#include <vector>

namespace geo {

/// Fewest letters inserted, removed or replaced to turn one text into the other, upper and lower case of ASCII letters
/// alike. Wagner and Fischer, J. ACM 21 (1974); O(length x length).
std::size_t edit_distance(std::string_view a, std::string_view b);

/// The candidate at the smallest edit distance, the earlier one in a tie; empty when there are no candidates.
std::string nearest_name(std::string_view name, const std::vector<std::string>& candidates);

} // namespace geo
