#include "routing/roads/oneway.hpp"

#include "routing/roads/access.hpp"
#include "routing/roads/conditional.hpp"
#include "routing/roads/tag_text.hpp"

#include <algorithm>
#include <array>

namespace routing::roads {
namespace {

struct OnewayValue {
    std::string_view value;
    OnewayRuling ruling;
};

constexpr OnewayRuling only_forward{true, false, false, false};
constexpr OnewayRuling only_backward{false, true, false, false};
constexpr OnewayRuling both_ways{true, true, false, false};

// OSM wiki, Key:oneway.
constexpr std::array values{
    OnewayValue{"yes", only_forward},
    OnewayValue{"true", only_forward},
    OnewayValue{"1", only_forward},
    OnewayValue{"-1", only_backward},
    OnewayValue{"reverse", only_backward},
    OnewayValue{"no", both_ways},
    OnewayValue{"false", both_ways},
    OnewayValue{"0", both_ways},
    OnewayValue{"reversible", {false, false, false, true}},
    OnewayValue{"alternating", {true, true, true, false}},
};

std::string_view value_for_motors(const Tags& tags, const Vehicle& vehicle) {
    constexpr std::array light{"oneway:motorcar", "oneway:motor_vehicle", "oneway:vehicle", "oneway"};
    constexpr std::array heavy{"oneway:hgv", "oneway:motor_vehicle", "oneway:vehicle", "oneway"};
    for (const char* key : is_heavy(vehicle) ? heavy : light)
        if (tags.has(key))
            return tags[key];
    return {};
}

OnewayRuling implied(const Tags& tags, Remarks& remarks) {
    const std::string_view highway = tags["highway"];
    const std::string_view junction = tags["junction"];
    if (highway == "motorway" || junction == "roundabout")
        return only_forward;
    if (junction == "circular") {
        remarks.push_back("circular junctions without oneway: taken as one-way");
        return only_forward;
    }
    if (highway == "motorway_link") {
        remarks.push_back("motorway links without oneway: taken as one-way");
        return only_forward;
    }
    return both_ways;
}

void apply_conditions(std::string_view text, const Vehicle& vehicle, OnewayRuling& ruling, Remarks& remarks) {
    for (const ConditionalClause& clause : read_conditional(text, vehicle)) {
        const auto meaning = oneway_meaning(clause.value);
        if (clause.holds == Truth::yes && meaning) {
            ruling = *meaning;
        } else if (clause.holds == Truth::at_times && meaning) {
            remarks.push_back("one-ways by the hour: driven only in directions open at all hours");
            ruling.forward &= meaning->forward;
            ruling.backward &= meaning->backward;
            ruling.doubtful = true;
        } else if (clause.holds != Truth::no) {
            remarks.push_back("one-way conditions that can't be proved: sign must be checked");
            ruling.doubtful = true;
        }
    }
}

} // namespace

std::optional<OnewayRuling> oneway_meaning(std::string_view value) {
    const std::string lower = lower_case(trimmed(value));
    const auto row = std::find_if(values.begin(), values.end(), [&](const OnewayValue& v) { return v.value == lower; });
    return row == values.end() ? std::nullopt : std::optional{row->ruling};
}

OnewayRuling read_oneway(const Tags& tags, const Vehicle& vehicle, Remarks& remarks) {
    const std::string_view value = value_for_motors(tags, vehicle);
    OnewayRuling ruling;
    if (value.empty()) {
        ruling = implied(tags, remarks);
    } else if (const auto meaning = oneway_meaning(value)) {
        ruling = *meaning;
    } else {
        // Whoever wrote it meant some direction; against the drawing order would be the bolder guess.
        remarks.push_back("oneway values not understood: taken as one-way");
        ruling = only_forward;
        ruling.doubtful = true;
    }
    if (tags.has("oneway:conditional"))
        apply_conditions(tags["oneway:conditional"], vehicle, ruling, remarks);
    if (!ruling.forward && !ruling.backward)
        remarks.push_back("reversible roads without a provable direction: closed");
    return ruling;
}

} // namespace routing::roads
