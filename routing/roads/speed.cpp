#include "routing/roads/speed.hpp"

#include "routing/roads/conditional.hpp"
#include "routing/roads/country_speed.hpp"
#include "routing/roads/tag_text.hpp"

#include <algorithm>
#include <array>

namespace routing::roads {
namespace {

using geo::KilometresPerHour;

constexpr KilometresPerHour walking{6};         // [K:maxspeed] "walk": our planning figure
constexpr KilometresPerHour without_limit{120}; // our planning figure for "none" on fast roads
constexpr KilometresPerHour slowest{3};
constexpr KilometresPerHour fastest{150};

struct SpeedUnit {
    std::string_view name;
    double kilometres_per_hour;
};

// Exact by definition: the international mile and the nautical mile (1852 m).
constexpr std::array units{
    SpeedUnit{"", 1.0},    SpeedUnit{"km/h", 1.0},     SpeedUnit{"kmh", 1.0},
    SpeedUnit{"kph", 1.0}, SpeedUnit{"mph", 1.609344}, SpeedUnit{"knots", 1.852},
};

constexpr std::array not_a_speed{"signals", "variable", "fixme", "unposted", "implicit",
                                 "sign",    "national", "yes",   "no"};

std::optional<KilometresPerHour> read_number(std::string_view text, Remarks& remarks) {
    const auto number = leading_number(text);
    if (!number)
        return std::nullopt;
    const std::string rest = lower_case(number->rest);
    const auto unit = std::find_if(units.begin(), units.end(), [&](const SpeedUnit& u) { return u.name == rest; });
    if (unit == units.end())
        return std::nullopt;
    const KilometresPerHour speed{number->value * unit->kilometres_per_hour};
    if (speed < slowest || speed > fastest) {
        remarks.push_back("speed limits outside 3 to 150 km/h: not used");
        return std::nullopt;
    }
    return speed;
}

std::optional<KilometresPerHour> read_single(std::string_view value, bool fast_road, bool heavy, Remarks& remarks) {
    const std::string lower = lower_case(value);
    if (lower == "walk" || lower == "walking")
        return walking;
    if (lower == "none")
        return fast_road ? std::optional{without_limit} : std::nullopt;
    if (std::find(not_a_speed.begin(), not_a_speed.end(), lower) != not_a_speed.end()) {
        remarks.push_back("speed limits that vary or give no number: not used");
        return std::nullopt;
    }
    if (is_speed_zone_code(value)) {
        const CountrySpeed zone = country_speed(value, heavy);
        if (!zone.known)
            remarks.push_back("speed zone codes not in the country table: class speed used");
        if (zone.unlimited)
            return without_limit;
        return zone.limit;
    }
    const std::size_t remarks_before = remarks.size();
    const auto speed = read_number(value, remarks);
    if (!speed && remarks.size() == remarks_before)
        remarks.push_back("speed limits not understood: not used");
    return speed;
}

/// The narrowest readable key's value.
struct Keys {
    std::array<std::string_view, 4> forward;
    std::array<std::string_view, 4> backward;
    std::array<std::string_view, 2> conditional; ///< narrowest last: it goes over the wider one
};
constexpr Keys light_keys{{"maxspeed:motorcar:forward", "maxspeed:motorcar", "maxspeed:forward", "maxspeed"},
                          {"maxspeed:motorcar:backward", "maxspeed:motorcar", "maxspeed:backward", "maxspeed"},
                          {"maxspeed:conditional", "maxspeed:motorcar:conditional"}};
constexpr Keys heavy_keys{{"maxspeed:hgv:forward", "maxspeed:hgv", "maxspeed:forward", "maxspeed"},
                          {"maxspeed:hgv:backward", "maxspeed:hgv", "maxspeed:backward", "maxspeed"},
                          {"maxspeed:conditional", "maxspeed:hgv:conditional"}};
constexpr std::array zone_keys{"maxspeed:type", "source:maxspeed", "zone:maxspeed", "zone:traffic"};

} // namespace

std::optional<KilometresPerHour> read_speed_value(std::string_view value, bool fast_road, bool heavy,
                                                  Remarks& remarks) {
    std::optional<KilometresPerHour> least;
    for (const std::string_view item : split_list(value, ";|")) {
        const auto speed = read_single(item, fast_road, heavy, remarks);
        if (speed && (!least || *speed < *least))
            least = speed;
    }
    return least;
}

LegalSpeed read_legal_speed(const Tags& tags, Direction direction, const Vehicle& vehicle, Remarks& remarks) {
    const std::string_view highway = tags["highway"];
    const bool fast_road = highway.starts_with("motorway") || highway.starts_with("trunk");
    const bool heavy = is_heavy(vehicle);
    const Keys& keys = heavy ? heavy_keys : light_keys;
    LegalSpeed legal;
    for (const std::string_view key : direction == Direction::forward ? keys.forward : keys.backward) {
        if (!tags.has(key))
            continue;
        legal.urban_zone |= names_urban_zone(tags[key]);
        legal.limit = read_speed_value(tags[key], fast_road, heavy, remarks);
        if (legal.limit)
            break;
    }
    for (const std::string_view key : zone_keys) {
        const std::string_view value = tags[key];
        if (!is_speed_zone_code(value)) // "sign", "survey", a link: where it is from, not how much
            continue;
        legal.urban_zone |= names_urban_zone(value);
        if (!legal.limit)
            legal.limit = read_speed_value(value, fast_road, heavy, remarks);
    }
    for (const std::string_view key : keys.conditional) {
        if (!tags.has(key))
            continue;
        for (const ConditionalClause& clause : read_conditional(tags[key], vehicle)) {
            if (clause.holds == Truth::yes) {
                if (const auto speed = read_speed_value(clause.value, fast_road, heavy, remarks))
                    legal.limit = speed;
            } else if (clause.holds != Truth::no) {
                remarks.push_back("speed conditions that can't be proved: base value used");
                legal.doubtful = true;
            }
        }
    }
    return legal;
}

} // namespace routing::roads
