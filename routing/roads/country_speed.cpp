#include "routing/roads/country_speed.hpp"

#include "routing/roads/tag_text.hpp"

#include <algorithm>
#include <array>

namespace routing::roads {
namespace {

constexpr double not_listed = -1.0;
constexpr double no_limit = -2.0;
constexpr double mph = 1.609344;

struct Country {
    std::string_view code;
    double urban, rural, fast, motorway; ///< km/h; fast: expressways, "trunk" in most codes
    double heavy_rural;                  ///< above 3.5 t
};

// OSM wiki, Default speed limits, revision 2607051.
constexpr std::array countries{
    Country{"DE", 50, 100, not_listed, no_limit, 80},
    Country{"AT", 50, 100, 100, 130, 70},
    Country{"CH", 50, 80, 100, 120, not_listed},
    Country{"LI", 50, 80, not_listed, not_listed, not_listed},
    Country{"IT", 50, 90, 110, 130, not_listed},
    Country{"FR", 50, 80, 110, 130, not_listed},
    Country{"ES", 30, 90, not_listed, 120, not_listed},
    Country{"SI", 50, 90, 110, 130, not_listed},
    Country{"HR", 50, 90, 110, 130, not_listed},
    Country{"RO", 50, 90, not_listed, 130, not_listed},
    Country{"NO", 50, 80, not_listed, 110, not_listed},
    Country{"IS", 50, 80, not_listed, not_listed, not_listed},
    Country{"NZ", 50, 100, not_listed, not_listed, not_listed},
    Country{"GB", 30 * mph, 60 * mph, 70 * mph, 70 * mph, not_listed},
};

struct ZoneName {
    std::string_view name;
    double Country::*column;
};

constexpr std::array zone_names{
    ZoneName{"urban", &Country::urban},       ZoneName{"rural", &Country::rural},
    ZoneName{"trunk", &Country::fast},        ZoneName{"expressway", &Country::fast},
    ZoneName{"express", &Country::fast},      ZoneName{"motorroad", &Country::fast},
    ZoneName{"motorway", &Country::motorway}, ZoneName{"nsl_restricted", &Country::urban},
    ZoneName{"nsl_single", &Country::rural},  ZoneName{"nsl_dual", &Country::fast},
};

/// "zone30", "zone:30", "30": the number in the code itself.
std::optional<double> own_number(std::string_view zone) {
    if (zone.starts_with("zone"))
        zone.remove_prefix(4);
    if (zone.starts_with(":"))
        zone.remove_prefix(1);
    const auto number = leading_number(zone);
    if (!number || !number->rest.empty() || number->value < 3.0 || number->value > 150.0)
        return std::nullopt;
    return number->value;
}

struct Code {
    std::string country; ///< upper case as written
    std::string zone;    ///< lower case
};

std::optional<Code> split_code(std::string_view code) {
    code = trimmed(code);
    const std::size_t colon = code.find(':');
    if (colon == std::string_view::npos)
        return std::nullopt;
    // "BE-VLG:rural" and the like: the country's part.
    std::string country{code.substr(0, std::min(colon, code.find('-')))};
    for (char& c : country) {
        if (c >= 'a' && c <= 'z')
            c = static_cast<char>(c - 'a' + 'A');
        if (c < 'A' || c > 'Z')
            return std::nullopt;
    }
    if (country.size() != 2)
        return std::nullopt;
    if (country == "UK")
        country = "GB";
    return Code{country, lower_case(trimmed(code.substr(colon + 1)))};
}

} // namespace

CountrySpeed country_speed(std::string_view text, bool heavy) {
    const auto code = split_code(text);
    if (!code)
        return {};
    const double unit = code->country == "GB" ? mph : 1.0;
    if (const auto number = own_number(code->zone))
        return {true, false, geo::KilometresPerHour{*number * unit}};
    if (code->zone == "walk" || code->zone == "living_street")
        return {true, false, std::nullopt}; // the class figure is as slow
    const auto country =
        std::find_if(countries.begin(), countries.end(), [&](const Country& row) { return row.code == code->country; });
    const auto zone =
        std::find_if(zone_names.begin(), zone_names.end(), [&](const ZoneName& row) { return row.name == code->zone; });
    if (country == countries.end() || zone == zone_names.end())
        return {};
    double limit = (*country).*(zone->column);
    if (heavy && zone->column == &Country::rural && country->heavy_rural != not_listed)
        limit = country->heavy_rural;
    if (limit == not_listed)
        return {};
    if (limit == no_limit)
        return {true, true, std::nullopt};
    return {true, false, geo::KilometresPerHour{limit}};
}

bool is_speed_zone_code(std::string_view text) {
    return split_code(text).has_value();
}

bool names_urban_zone(std::string_view text) {
    const auto code = split_code(text);
    if (!code)
        return false;
    const auto number = own_number(code->zone);
    return code->zone == "urban" || code->zone == "nsl_restricted" || (number && *number <= 40.0);
}

} // namespace routing::roads
