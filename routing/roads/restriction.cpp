#include "routing/roads/restriction.hpp"

#include "routing/roads/access.hpp"
#include "routing/roads/conditional.hpp"
#include "routing/roads/tag_text.hpp"

#include <algorithm>
#include <array>

namespace routing::roads {
namespace {

struct RestrictionKind {
    std::string_view value;
    TurnRule rule;
    bool many_from = false;
    bool many_to = false;
};

constexpr std::array kinds{
    RestrictionKind{"no_left_turn", TurnRule::forbidden},
    RestrictionKind{"no_right_turn", TurnRule::forbidden},
    RestrictionKind{"no_straight_on", TurnRule::forbidden},
    RestrictionKind{"no_u_turn", TurnRule::forbidden},
    RestrictionKind{"no_entry", TurnRule::forbidden, true, false},
    RestrictionKind{"no_exit", TurnRule::forbidden, false, true},
    RestrictionKind{"only_left_turn", TurnRule::only},
    RestrictionKind{"only_right_turn", TurnRule::only},
    RestrictionKind{"only_straight_on", TurnRule::only},
    RestrictionKind{"only_u_turn", TurnRule::only},
};

// Narrowest first, as for access.
constexpr std::array light_keys{"restriction:motorcar", "restriction:motor_vehicle", "restriction:vehicle",
                                "restriction"};
constexpr std::array heavy_keys{"restriction:hgv", "restriction:motor_vehicle", "restriction:vehicle", "restriction"};
constexpr std::array light_modes{"motorcar", "motor_vehicle", "vehicle"};
constexpr std::array heavy_modes{"hgv", "motor_vehicle", "vehicle"};

bool is_excepted(std::string_view except, const Vehicle& vehicle) {
    const auto& modes = is_heavy(vehicle) ? heavy_modes : light_modes;
    for (const std::string_view item : split_list(except, ";,"))
        if (std::find(modes.begin(), modes.end(), lower_case(item)) != modes.end())
            return true;
    return false;
}

/// The value that binds our vehicle, conditions included; empty when none does.
std::string_view value_for(const Tags& tags, const Vehicle& vehicle, Remarks& remarks) {
    for (const std::string key : is_heavy(vehicle) ? heavy_keys : light_keys) {
        if (tags.has(key))
            return tags[key];
        if (!tags.has(key + ":conditional"))
            continue;
        for (const ConditionalClause& clause : read_conditional(tags[key + ":conditional"], vehicle)) {
            if (clause.holds == Truth::no)
                continue;
            if (clause.holds != Truth::yes)
                remarks.push_back("turn restrictions under a condition: kept at all times");
            return clause.value;
        }
    }
    return {};
}

const char* fault_of(const TurnRestriction& turn, const RestrictionKind& kind, std::size_t via_nodes) {
    if (turn.from.empty())
        return "restrictions ignored: no from member";
    if (turn.to.empty())
        return "restrictions ignored: no to member";
    if (via_nodes == 0 && turn.via_ways.empty())
        return "restrictions ignored: no via member";
    if (via_nodes > 1 || (via_nodes == 1 && !turn.via_ways.empty()))
        return "restrictions ignored: more than one via node";
    if (turn.from.size() > 1 && !kind.many_from)
        return "restrictions ignored: more than one from member";
    if (turn.to.size() > 1 && !kind.many_to)
        return "restrictions ignored: more than one to member";
    return nullptr;
}

} // namespace

std::optional<TurnRestriction> read_restriction(const Restriction& relation, const Vehicle& vehicle, Remarks& remarks) {
    if (is_excepted(relation.tags["except"], vehicle)) {
        remarks.push_back("restrictions that except the vehicle");
        return std::nullopt;
    }
    const std::string value = lower_case(value_for(relation.tags, vehicle, remarks));
    if (value.empty()) {
        remarks.push_back("restrictions for other vehicles");
        return std::nullopt;
    }
    const auto kind =
        std::find_if(kinds.begin(), kinds.end(), [&](const RestrictionKind& k) { return k.value == value; });
    if (kind == kinds.end()) {
        remarks.push_back("restrictions ignored: kind not understood");
        return std::nullopt;
    }
    TurnRestriction turn;
    turn.rule = kind->rule;
    std::size_t via_nodes = 0;
    for (const RestrictionMember& member : relation.members) {
        const bool is_way = member.object.type == OsmType::way;
        if (member.role == "from" && is_way)
            turn.from.push_back(member.object.id);
        else if (member.role == "to" && is_way)
            turn.to.push_back(member.object.id);
        else if (member.role == "via" && is_way)
            turn.via_ways.push_back(member.object.id);
        else if (member.role == "via" && member.object.type == OsmType::node) {
            turn.via_node = member.object.id;
            ++via_nodes;
        }
    }
    if (const char* fault = fault_of(turn, *kind, via_nodes)) {
        remarks.push_back(fault);
        return std::nullopt;
    }
    if (relation.tags.has("day_on") || relation.tags.has("hour_on"))
        remarks.push_back("turn restrictions under a condition: kept at all times");
    return turn;
}

} // namespace routing::roads
