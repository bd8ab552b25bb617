#include "cli/known_names.hpp"

#include "cli/plain_text.hpp"
#include "geo/nearest_name.hpp"

#include <algorithm>

namespace cli {

std::optional<std::string> meant_name(std::string_view written, const std::vector<std::string>& known) {
    constexpr std::size_t longest_compared = 64; // the distance costs length times length
    if (written.size() > longest_compared)
        return std::nullopt;
    // Two letters changed places count as two steps.
    std::size_t best = (written.size() < 4 ? 1 : std::max<std::size_t>(2, written.size() / 3)) + 1;
    std::optional<std::string> found;
    for (const std::string& name : known) {
        if (name.size() > longest_compared)
            continue;
        const std::size_t distance = geo::edit_distance(written, name);
        if (distance < best) {
            best = distance;
            found = name;
        }
    }
    return found;
}

std::string offer_names(std::string_view written, const std::vector<std::string>& known, std::string_view what) {
    if (const auto meant = meant_name(written, known))
        return "did you mean \"" + shown(*meant) + "\"?";
    if (known.empty())
        return "there is no " + std::string(what) + " to name";
    constexpr std::size_t few = 24;
    std::string all = "known: ";
    for (std::size_t i = 0; i < std::min(few, known.size()); ++i)
        all += (i == 0 ? "" : ", ") + shown(known[i]);
    return known.size() > few ? all + " ..." : all;
}

} // namespace cli
