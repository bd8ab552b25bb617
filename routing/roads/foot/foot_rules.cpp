#include "routing/roads/foot/foot_rules.hpp"

#include "routing/roads/network.hpp"
#include "routing/roads/tag_text.hpp"

#include <algorithm>
#include <array>
#include <optional>

namespace routing::roads::foot {
namespace {

constexpr geo::KilometresPerHour pace{4.0};
constexpr geo::KilometresPerHour pace_on_steps{1.5};

// Classes without a row, as well as those closed here, may still be opened by `foot`.
constexpr std::array open_classes{"trunk",          "trunk_link",    "primary",       "primary_link", "secondary",
                                  "secondary_link", "tertiary",      "tertiary_link", "unclassified", "road",
                                  "residential",    "living_street", "service",       "track",        "pedestrian",
                                  "footway",        "path",          "steps",         "corridor",     "bridleway",
                                  "cycleway",       "platform"};
// No tag makes these a way to walk: not there, or climbing gear is needed.
constexpr std::array never_classes{"via_ferrata", "construction", "proposed", "planned",  "abandoned",
                                   "razed",       "no",           "elevator", "motorway", "motorway_link"};

struct ScaleRow {
    std::string_view sac_scale;
    double share_of_pace; ///< 0: closed
};
// Above mountain_hiking hands are needed or a fall is possible: not with kit.
constexpr std::array scales{
    ScaleRow{"strolling", 1.0},
    ScaleRow{"hiking", 1.0},
    ScaleRow{"mountain_hiking", 0.75},
};

constexpr std::array open_values{"yes", "designated", "official", "permissive", "public", "destination", "customers"};
constexpr std::array closed_values{"no",       "private",  "permit",   "use_sidepath", "residents",
                                   "delivery", "military", "forestry", "agricultural"};

template <std::size_t size>
bool is_among(const std::array<const char*, size>& list, std::string_view value) {
    return std::find(list.begin(), list.end(), value) != list.end();
}

/// What `foot`, else `access`, says; nothing when neither is there. The most open item of a list counts.
std::optional<bool> access_of(const Tags& tags, Remarks& remarks) {
    for (const std::string_view key : {"foot", "access"}) {
        if (!tags.has(key))
            continue;
        bool open = false;
        for (const std::string_view item : split_list(tags[key], ";,|")) {
            const std::string value = lower_case(item);
            if (!is_among(open_values, value) && !is_among(closed_values, value))
                remarks.push_back("on foot: access values not understood: taken as closed");
            open = open || is_among(open_values, value);
        }
        return open;
    }
    return std::nullopt;
}

bool is_open_class(const Tags& tags) {
    return is_among(open_classes, tags["highway"]) && tags["motorroad"] != "yes";
}

} // namespace

WayRuling rule_way(const Tags& tags, Remarks& remarks) {
    WayRuling ruling;
    const std::string_view highway = tags["highway"];
    if (highway.empty() || is_among(never_classes, highway))
        return ruling;
    const std::optional<bool> own = access_of(tags, remarks);
    if (!own.value_or(is_open_class(tags)))
        return ruling;
    double share = 1.0;
    if (const std::string_view scale = tags["sac_scale"]; !scale.empty()) {
        const auto row = std::find_if(scales.begin(), scales.end(),
                                      [&](const ScaleRow& r) { return r.sac_scale == lower_case(trimmed(scale)); });
        if (row == scales.end()) {
            remarks.push_back("on foot: paths harder than mountain_hiking: closed");
            return ruling;
        }
        share = row->share_of_pace;
    }
    if (tags.has("foot:conditional") || tags.has("access:conditional")) {
        remarks.push_back("on foot: access conditions that can't be proved: sign must be checked");
        ruling.notes |= note_doubtful_access;
    }
    ruling.forward_speed = ruling.backward_speed = {(highway == "steps" ? pace_on_steps : pace).value * share};
    const std::string oneway = lower_case(tags["oneway:foot"]);
    ruling.forward = oneway != "-1" && oneway != "reverse" && lower_case(tags["foot:forward"]) != "no";
    ruling.backward = oneway != "yes" && oneway != "1" && oneway != "true" && lower_case(tags["foot:backward"]) != "no";
    if (tags.has("ford") && tags["ford"] != "no")
        ruling.notes |= note_ford;
    return ruling;
}

NodeRuling rule_node(const Tags& tags, Remarks& remarks) {
    NodeRuling ruling;
    ruling.is_barrier = tags.has("barrier") && tags["barrier"] != "no";
    if (!access_of(tags, remarks).value_or(true)) {
        ruling.access = Access::forbidden;
        ruling.is_barrier = true;
    }
    if (tags["barrier"].find("gate") != std::string_view::npos)
        ruling.notes |= note_gate;
    if (tags["ford"] == "yes")
        ruling.notes |= note_ford;
    return ruling;
}

} // namespace routing::roads::foot
