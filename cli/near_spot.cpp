#include "cli/near_spot.hpp"

#include "cli/close_option.hpp"
#include "cli/known_names.hpp"
#include "cli/number_text.hpp"
#include "cli/plain_text.hpp"
#include "geo/input_error.hpp"

namespace cli {

NearSpot parse_near(const std::string& text, const std::string& option, const routing::shoot::Shoot& shoot) {
    const auto location = [&](std::uint32_t n) { return NearSpot{shoot.locations[n].name, shoot.locations[n].at, n}; };
    std::vector<std::string> known;
    for (std::uint32_t n = 0; n < shoot.locations.size(); ++n) {
        if (shoot.locations[n].id == text)
            return location(n);
        known.push_back(shoot.locations[n].id);
    }
    for (const auto& scene : shoot.scenes) {
        if (scene.id == text)
            return location(scene.options.front().location);
        known.push_back(scene.id);
    }
    if (shoot.base) {
        if (text == "base")
            return {shoot.base->name, shoot.base->at};
        known.emplace_back("base");
    } else if (text == "base") {
        throw geo::InputError({{"", option, text, "is not given in " + shoot.file, "name a location, or LAT,LON"}});
    }
    if (text.find(',') != std::string::npos) {
        const geo::Coordinate at = parse_place(text, option);
        return {degrees_text(at), at};
    }
    throw geo::InputError({{"", option, shown(text), "is no location or scene of " + shoot.file + ", nor LAT,LON",
                            offer_names(text, known, "spot")}});
}

} // namespace cli
