#include "routing/roads/size_limit.hpp"

#include "routing/roads/conditional.hpp"
#include "routing/roads/network.hpp"
#include "routing/roads/tag_text.hpp"

#include <algorithm>
#include <array>

namespace routing::roads {
namespace {

struct Unit {
    std::string_view name;
    double factor;
};

// Exact by definition: inch 0.0254 m, pound 0.45359237 kg, short ton 2000 lb, long ton 2240 lb.
constexpr double inch = 0.0254;
constexpr double pound_in_tonnes = 0.00045359237;
constexpr std::array length_units{
    Unit{"", 1.0},        Unit{"m", 1.0},    Unit{"metres", 1.0},   Unit{"meters", 1.0},
    Unit{"cm", 0.01},     Unit{"mm", 0.001}, Unit{"ft", 12 * inch}, Unit{"feet", 12 * inch},
    Unit{"'", 12 * inch}, Unit{"in", inch},  Unit{"\"", inch},
};
constexpr std::array weight_units{
    Unit{"", 1.0},
    Unit{"t", 1.0},
    Unit{"to", 1.0},
    Unit{"tonnes", 1.0},
    Unit{"kg", 0.001},
    Unit{"st", 2000 * pound_in_tonnes},
    Unit{"lt", 2240 * pound_in_tonnes},
    Unit{"lb", pound_in_tonnes},
    Unit{"lbs", pound_in_tonnes},
};

template <std::size_t N>
std::optional<double> with_unit(std::string_view text, const std::array<Unit, N>& units) {
    const auto number = leading_number(text);
    if (!number)
        return std::nullopt;
    const std::string rest = lower_case(number->rest);
    const auto unit = std::find_if(units.begin(), units.end(), [&](const Unit& u) { return u.name == rest; });
    return unit == units.end() ? std::nullopt : std::optional{number->value * unit->factor};
}

/// 12'6", 12' 6", 12 ft 6 in.
std::optional<double> feet_and_inches(std::string_view text) {
    const auto feet = leading_number(text);
    if (!feet)
        return std::nullopt;
    std::string_view rest = feet->rest;
    if (rest.starts_with("ft"))
        rest.remove_prefix(2);
    else if (rest.starts_with("'"))
        rest.remove_prefix(1);
    else
        return std::nullopt;
    const auto inches = leading_number(rest);
    if (!inches || !(inches->rest == "\"" || inches->rest == "in" || inches->rest == "''" || inches->rest.empty()))
        return std::nullopt;
    return (feet->value * 12.0 + inches->value) * inch;
}

struct Limit {
    std::string_view plain, physical, forward, backward, conditional;
    enum { height, width, length, weight } what;
};

constexpr std::array limits{
    Limit{"maxheight", "maxheight:physical", "maxheight:forward", "maxheight:backward", "maxheight:conditional",
          Limit::height},
    Limit{"maxwidth", "maxwidth:physical", "maxwidth:forward", "maxwidth:backward", "maxwidth:conditional",
          Limit::width},
    Limit{"maxlength", "maxlength:physical", "maxlength:forward", "maxlength:backward", "maxlength:conditional",
          Limit::length},
    Limit{"maxweight", "maxweight:physical", "maxweight:forward", "maxweight:backward", "maxweight:conditional",
          Limit::weight},
    Limit{"maxweightrating", "maxweightrating:physical", "maxweightrating:forward", "maxweightrating:backward",
          "maxweightrating:conditional", Limit::weight},
};

// OSM wiki, Key:maxheight: there is a bridge or gate, but no sign, or the general limit holds.
constexpr std::array no_limit{"default", "none", "no_sign", "unsigned", "no_indications", "no", "unlimited"};

std::optional<double> own_size(const Limit& limit, const Vehicle& vehicle) {
    const auto metres = [](const std::optional<geo::Metres>& size) {
        return size ? std::optional{size->value} : std::nullopt;
    };
    switch (limit.what) {
    case Limit::height:
        return metres(vehicle.height);
    case Limit::width:
        return metres(vehicle.width);
    case Limit::length:
        return metres(vehicle.length);
    default:
        return vehicle.weight ? std::optional{vehicle.weight->value} : std::nullopt;
    }
}

std::optional<double> read_one(const Limit& limit, std::string_view text) {
    if (limit.what == Limit::weight) {
        const auto weight = read_weight(text);
        return weight ? std::optional{weight->value} : std::nullopt;
    }
    const auto length = read_length(text);
    return length ? std::optional{length->value} : std::nullopt;
}

void check(const Limit& limit, std::string_view text, const Vehicle& vehicle, SizeRuling& ruling, Remarks& remarks) {
    for (const std::string_view item : split_list(text, ";|")) {
        const std::string lower = lower_case(item);
        if (std::find(no_limit.begin(), no_limit.end(), lower) != no_limit.end())
            continue;
        if (lower == "below_default") {
            ruling.notes |= note_low_clearance;
            continue;
        }
        const auto allowed = read_one(limit, item);
        if (!allowed || *allowed <= 0.0) {
            remarks.push_back("size limits not understood: not used");
            continue;
        }
        const auto ours = own_size(limit, vehicle);
        ruling.notes |= note_low_clearance;
        // Signs are written to the centimetre and converted from feet: a nanometre must not decide.
        if (ours && *ours > *allowed + 1e-9)
            ruling.passable = false;
    }
}

} // namespace

std::optional<geo::Metres> read_length(std::string_view text) {
    auto metres = with_unit(text, length_units);
    if (!metres)
        metres = feet_and_inches(text);
    return metres ? std::optional{geo::Metres{*metres}} : std::nullopt;
}

std::optional<geo::Tonnes> read_weight(std::string_view text) {
    const auto tonnes = with_unit(text, weight_units);
    return tonnes ? std::optional{geo::Tonnes{*tonnes}} : std::nullopt;
}

SizeRuling read_size_limits(const Tags& tags, Direction direction, const Vehicle& vehicle, Remarks& remarks) {
    SizeRuling ruling;
    for (const Limit& limit : limits) {
        const std::string_view directed = direction == Direction::forward ? limit.forward : limit.backward;
        for (const std::string_view key : {limit.plain, limit.physical, directed})
            if (tags.has(key))
                check(limit, tags[key], vehicle, ruling, remarks);
        if (!tags.has(limit.conditional))
            continue;
        for (const ConditionalClause& clause : read_conditional(tags[limit.conditional], vehicle)) {
            if (clause.holds == Truth::yes)
                check(limit, clause.value, vehicle, ruling, remarks);
            else if (clause.holds != Truth::no)
                ruling.notes |= note_low_clearance;
        }
    }
    if (!ruling.passable)
        remarks.push_back("size limits below the vehicle's size: closed");
    return ruling;
}

} // namespace routing::roads
