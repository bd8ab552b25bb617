#include "cli/sky_option.hpp"

#include "cli/known_names.hpp"
#include "cli/plain_text.hpp"
#include "geo/input_error.hpp"
#include "routing/shoot/sky_kinds.hpp"

#include <algorithm>

namespace cli {

std::string parse_sky(const std::string& text) {
    const std::vector<std::string>& kinds = routing::shoot::sky_kinds();
    if (std::find(kinds.begin(), kinds.end(), text) == kinds.end())
        throw geo::InputError({{"", "--sky", shown(text), "is no sky known here", offer_names(text, kinds, "sky")}});
    return text;
}

} // namespace cli
