#include "geo/light_definition.hpp"

#include <algorithm>
#include <array>
#include <cassert>

namespace geo {

namespace {

using namespace literals;
using enum LightName;
using enum HalfDay;

constexpr sky::HorizonRule upper_limb = sky::HorizonRule::upper_limb;
constexpr Degrees nadir = -90_deg;
constexpr Degrees zenith = 90_deg;

constexpr std::string_view practice = "common practice, no source";
constexpr std::string_view almanac = "sunrise and sunset: Astronomical Almanac, glossary";
constexpr std::string_view almanac_and_practice =
    "sunrise and sunset: Astronomical Almanac, glossary; +6: common practice, no source";

// In the order of the enumeration. Altitudes are of the sun's centre, airless.
const std::array definitions{
    LightDefinition{
        sunrise, "sunrise", SunBand{upper_limb, 6_deg, morning}, almanac_and_practice, {}, Ground::sun_clear},
    LightDefinition{sunset, "sunset", SunBand{upper_limb, 6_deg, evening}, almanac_and_practice, {}, Ground::sun_clear},
    LightDefinition{golden_morning, "golden-morning", SunBand{-4_deg, 6_deg, morning}, practice},
    LightDefinition{golden_evening, "golden-evening", SunBand{-4_deg, 6_deg, evening}, practice},
    LightDefinition{golden, "golden", SunBand{-4_deg, 6_deg, {}}, practice},
    LightDefinition{blue_morning, "blue-morning", SunBand{-6_deg, -4_deg, morning}, practice},
    LightDefinition{blue_evening, "blue-evening", SunBand{-6_deg, -4_deg, evening}, practice},
    LightDefinition{blue, "blue", SunBand{-6_deg, -4_deg, {}}, practice},
    LightDefinition{day, "day", SunBand{upper_limb, zenith, {}}, almanac},
    // Above 45 degrees a shadow is shorter than what throws it; many say 50 to 60.
    LightDefinition{high_sun, "high-sun", SunBand{45_deg, zenith, {}}, practice, {}, Ground::sun_clear},
    LightDefinition{low_sun, "low-sun", SunBand{6_deg, 20_deg, {}}, practice, {}, Ground::sun_clear},
    // Light without shadows: the sky's alone before sunrise and after sunset; all day under a closed cloud.
    LightDefinition{
        soft, "soft", SunBand{-6_deg, upper_limb, {}}, practice, {}, Ground::any, SunBand{-6_deg, zenith, {}}},
    LightDefinition{direct_sun, "direct-sun", SunBand{upper_limb, zenith, {}}, almanac, {}, Ground::sun_clear},
    LightDefinition{open_shade, "open-shade", SunBand{upper_limb, zenith, {}}, practice, {}, Ground::sun_hidden},
    LightDefinition{night, "night", SunBand{nadir, -18_deg, {}}, "end of astronomical twilight: Astronomical Almanac"},
    // A tenth lit brightens a dark sky by 0.15 mag at most (Krisciunas and Schaefer 1991; tests/geo/sky).
    LightDefinition{dark_sky, "dark-sky", SunBand{nadir, -18_deg, {}},
                    "end of astronomical twilight: Astronomical Almanac; moon at most 0.10 lit: derived",
                    MoonAbsent{0.10}},
    LightDefinition{moonlight, "moonlight", SunBand{nadir, -12_deg, {}}, practice, MoonUp{{}, 0.5, 1.0}},
    LightDefinition{any, "any", {}, "no limit"},
};

/// The altitude of a line; sunrise and sunset by the textbook -50'.
Degrees nominal_altitude(const sky::SunLine& line) {
    const auto* altitude = std::get_if<Degrees>(&line);
    return altitude != nullptr ? *altitude : Degrees{-50.0 / 60.0};
}

} // namespace

const LightDefinition& light_definition(LightName name) {
    const auto found = std::find_if(definitions.begin(), definitions.end(),
                                    [&](const LightDefinition& row) { return row.name == name; });
    assert(found != definitions.end());
    return *found;
}

std::string_view to_string(LightName name) {
    return light_definition(name).text;
}

std::optional<LightName> parse_light_name(std::string_view text) {
    for (const LightDefinition& row : definitions)
        if (row.text == text)
            return row.name;
    return std::nullopt;
}

const std::vector<LightName>& light_names() {
    static const std::vector<LightName> names = [] {
        std::vector<LightName> all;
        all.reserve(definitions.size());
        for (const LightDefinition& row : definitions)
            all.push_back(row.name);
        return all;
    }();
    return names;
}

std::optional<SunAltitudeRange> sun_range(LightName name) {
    const auto& band = light_definition(name).band;
    if (!band)
        return std::nullopt;
    return SunAltitudeRange{nominal_altitude(band->low), nominal_altitude(band->high), band->when};
}

bool needs_terrain(LightName name) {
    return name == direct_sun || name == open_shade;
}

} // namespace geo
