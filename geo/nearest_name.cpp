#include "geo/nearest_name.hpp"

#include <algorithm>
#include <numeric>

namespace geo {

namespace {
/// Independent of the locale, unlike std::tolower.
char lower_case(char letter) {
    return letter >= 'A' && letter <= 'Z' ? static_cast<char>(letter - 'A' + 'a') : letter;
}
} // namespace

std::size_t edit_distance(std::string_view a, std::string_view b) {
    // One row of the table at a time: row[j] turns the letters of `a` so far into the first j of `b`.
    std::vector<std::size_t> row(b.size() + 1);
    std::iota(row.begin(), row.end(), std::size_t{0});
    for (std::size_t i = 0; i < a.size(); ++i) {
        std::size_t diagonal = row[0];
        row[0] = i + 1;
        for (std::size_t j = 0; j < b.size(); ++j) {
            const std::size_t replaced = diagonal + (lower_case(a[i]) == lower_case(b[j]) ? 0 : 1);
            diagonal = row[j + 1];
            row[j + 1] = std::min({replaced, row[j] + 1, row[j + 1] + 1});
        }
    }
    return row.back();
}

std::string nearest_name(std::string_view name, const std::vector<std::string>& candidates) {
    std::string nearest;
    auto fewest = static_cast<std::size_t>(-1);
    for (const std::string& candidate : candidates) {
        const std::size_t steps = edit_distance(name, candidate);
        if (steps < fewest) {
            fewest = steps;
            nearest = candidate;
        }
    }
    return nearest;
}

} // namespace geo
