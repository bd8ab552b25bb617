#include "cli/field_values.hpp"
#include "cli/known_names.hpp"
#include "cli/shoot_parts.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace cli {

using routing::shoot::avoided_kind_names;
using routing::shoot::AvoidedKind;
using routing::shoot::Crew;
using routing::shoot::NamedPoint;

namespace {

constexpr std::array<LaterKey, 1> later_crew_keys{{
    {"latest_drive_minutes", "leave it out: give each day its latest_wrap"},
}};

std::optional<geo::Metres> read_metres(const Members& members, std::string_view key, double low, double high) {
    const auto field = members.find(key);
    const auto metres = field ? field->number(low, high, "metres") : std::nullopt;
    return metres ? std::optional(geo::Metres{*metres}) : std::nullopt;
}

routing::roads::Vehicle read_vehicle(const Field& field) {
    const Members members = field.object({"kind", "height_m", "width_m", "length_m", "weight_t", "high_clearance"});
    routing::roads::Vehicle vehicle;
    if (const auto kind = members.find("kind")) {
        const auto text = kind->text("write \"van\"");
        if (text && *text != "van")
            kind->fault("is not supported by this version", "write \"van\"");
    }
    // Wide bounds: they catch centimetres and kilograms, not odd vans.
    vehicle.height = read_metres(members, "height_m", 0.5, 6.0);
    vehicle.width = read_metres(members, "width_m", 0.5, 5.0);
    vehicle.length = read_metres(members, "length_m", 1.0, 30.0);
    if (const auto weight = members.find("weight_t")) {
        if (const auto tonnes = weight->number(0.1, 60.0, "tonnes"))
            vehicle.weight = geo::Tonnes{*tonnes};
    }
    if (const auto clearance = members.find("high_clearance"))
        vehicle.high_clearance = clearance->flag().value_or(false);
    return vehicle;
}

void read_walk(const Field& field, Crew& crew) {
    const Members members = field.object({"load_kg", "max_minutes"});
    if (const auto longest = members.find("max_minutes"))
        crew.max_walk = read_minutes(*longest, 0, 600).value_or(crew.max_walk);
    if (const auto load = members.find("load_kg")) {
        crew.load_kg = load->number(0, 60, "kg a person").value_or(crew.load_kg);
    }
}

std::vector<AvoidedKind> read_avoid(const Field& field) {
    const std::vector<std::string> names(avoided_kind_names.begin(), avoided_kind_names.end());
    std::vector<AvoidedKind> avoid;
    for (const Field& item : field.list("roads to avoid").value_or(std::vector<Field>{})) {
        const auto text = item.text("write \"tolls\", \"ferries\" or \"unpaved\"");
        if (!text)
            continue;
        const auto name = std::find(names.begin(), names.end(), *text);
        const auto kind = static_cast<AvoidedKind>(name - names.begin());
        if (name == names.end())
            item.fault("is nothing to avoid known here", offer_names(*text, names, "wish"));
        else if (std::find(avoid.begin(), avoid.end(), kind) == avoid.end())
            avoid.push_back(kind);
    }
    return avoid;
}

} // namespace

Crew read_crew(const Field& field) {
    const Members members = field.object({"people", "vehicle", "walk", "avoid", "turnaround_h"}, later_crew_keys);
    Crew crew;
    if (const auto people = members.find("people"))
        crew.people = static_cast<int>(people->whole(1, 1000, "people").value_or(1));
    if (const auto vehicle = members.find("vehicle"))
        crew.vehicle = read_vehicle(*vehicle);
    if (const auto walk = members.find("walk"))
        read_walk(*walk, crew);
    if (const auto avoid = members.find("avoid"))
        crew.avoid = read_avoid(*avoid);
    if (const auto turnaround = members.find("turnaround_h")) {
        if (const auto hours = turnaround->number(0, 24, "hours"))
            crew.turnaround = std::chrono::minutes(std::llround(*hours * 60.0));
    }
    return crew;
}

std::optional<NamedPoint> read_named_point(const Field& field) {
    const Members members = field.object({"name", "at"});
    const auto name_field = members.need("name", "say how the place is called");
    const auto name = name_field ? name_field->text("say how the place is called") : std::nullopt;
    const auto at_field = members.need("at", R"(write {"lat": ..., "lon": ...} in degrees)");
    const auto at = at_field ? read_place(*at_field) : std::nullopt;
    if (!name || !at)
        return std::nullopt;
    return NamedPoint{*name, *at};
}

} // namespace cli
