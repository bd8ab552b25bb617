#include "routing/shoot/sky_kinds.hpp"

#include <algorithm>
#include <array>
#include <string_view>

namespace routing::shoot {

const std::vector<std::string>& sky_kinds() {
    static const std::vector<std::string> kinds{"clear",   "few",  "scattered", "broken", "overcast", "fog",
                                                "drizzle", "rain", "showers",   "snow",   "storm",    "any"};
    return kinds;
}

bool is_closed_sky(const std::string& sky) {
    static constexpr std::array<std::string_view, 6> closed{"overcast", "fog", "drizzle", "rain", "snow", "storm"};
    return std::find(closed.begin(), closed.end(), sky) != closed.end();
}

bool suits(const SceneOption& option, const std::string& sky) {
    return option.sky.empty() || sky == "any" ||
           std::any_of(option.sky.begin(), option.sky.end(),
                       [&](const std::string& kind) { return kind == sky || kind == "any"; });
}

const std::string* told_sky(const Shoot& shoot, geo::CivilDate day) {
    return shoot.told_sky && (!shoot.told_sky->on || *shoot.told_sky->on == day) ? &shoot.told_sky->sky : nullptr;
}

std::string sky_text(const SceneOption& option) {
    std::string text;
    for (const std::string& sky : option.sky)
        text += (text.empty() ? "" : ", ") + sky;
    return text;
}

} // namespace routing::shoot
