#include "routing/roads/foot/foot_rules.hpp"

#include "routing/roads/access.hpp"
#include "routing/roads/network.hpp"
#include "routing/roads/oneway.hpp"
#include "routing/roads/road_hours.hpp"
#include "routing/roads/tag_text.hpp"

#include <algorithm>
#include <array>
#include <optional>

namespace routing::roads::foot {
namespace {

using geo::KilometresPerHour;

enum class ClassOnFoot {
    open,
    doubtful,       ///< open, but in some countries not: look at the sign
    open_if_tagged, ///< only where `foot` itself opens it
    never
};

struct FootClass {
    std::string_view highway;
    ClassOnFoot access = ClassOnFoot::never;
    KilometresPerHour pace = flat_pace;
};

using enum ClassOnFoot;

// Classes: OSM wiki, Key:highway and "OSM tags for routing/Access restrictions". Paces: our planning figures, no
// source.
constexpr KilometresPerHour steps_pace{1.5};
constexpr std::array classes{
    FootClass{"motorway", open_if_tagged},
    FootClass{"motorway_link", open_if_tagged},
    FootClass{"trunk", open},
    FootClass{"trunk_link", open},
    FootClass{"primary", open},
    FootClass{"primary_link", open},
    FootClass{"secondary", open},
    FootClass{"secondary_link", open},
    FootClass{"tertiary", open},
    FootClass{"tertiary_link", open},
    FootClass{"unclassified", open},
    FootClass{"road", open},
    FootClass{"residential", open},
    FootClass{"living_street", open},
    FootClass{"service", open},
    FootClass{"track", open},
    FootClass{"pedestrian", open},
    FootClass{"footway", open},
    FootClass{"path", open},
    FootClass{"steps", open, steps_pace},
    FootClass{"corridor", open},
    FootClass{"platform", open},
    FootClass{"bridleway", doubtful},
    FootClass{"cycleway", doubtful},
    FootClass{"busway", open_if_tagged},
    FootClass{"bus_guideway", never},
    FootClass{"raceway", never},
    FootClass{"escape", never},
    FootClass{"via_ferrata", never},
    FootClass{"elevator", never},
    FootClass{"services", never}, // the area beside a motorway; its lanes are ways of their own
    FootClass{"rest_area", never},
    FootClass{"emergency_bay", never},
    FootClass{"construction", never},
    FootClass{"proposed", never},
    FootClass{"planned", never},
    FootClass{"abandoned", never},
    FootClass{"razed", never},
    FootClass{"no", never},
};

struct HikingGrade {
    std::string_view sac_scale;
    double share_of_pace; ///< 0: closed
};

// OSM wiki, Key:sac_scale. Shares: our planning figures. Which grades a crew with kit may walk: our rule.
constexpr std::array hiking_grades{
    HikingGrade{"strolling", 1.0},
    HikingGrade{"hiking", 1.0},
    HikingGrade{"mountain_hiking", 0.75},
    HikingGrade{"demanding_mountain_hiking", 0.0},
    HikingGrade{"alpine_hiking", 0.0},
    HikingGrade{"demanding_alpine_hiking", 0.0},
    HikingGrade{"difficult_alpine_hiking", 0.0},
};

// OSM wiki, Key:trail_visibility: from "bad" on the way is found by orientation, not by sight.
constexpr std::array hard_to_see{"bad", "horrible", "no"};

struct BarrierOnFoot {
    std::string_view barrier;
    bool passes = true;
    std::string_view remark = ""; ///< counted when it decides without access keys
};

constexpr std::string_view line_crosses = "walls, fences or kerbs sharing a road node: taken as open";

// OSM wiki, Key:barrier and its values' pages. Where a van is stopped a walker steps round, over or through.
constexpr std::array barriers{
    BarrierOnFoot{"cattle_grid"},
    BarrierOnFoot{"entrance"},
    BarrierOnFoot{"toll_booth"},
    BarrierOnFoot{"border_control"},
    BarrierOnFoot{"bump_gate"},
    BarrierOnFoot{"height_restrictor"},
    BarrierOnFoot{"width_restrictor"},
    BarrierOnFoot{"sally_port"},
    BarrierOnFoot{"gate"},
    BarrierOnFoot{"swing_gate"},
    BarrierOnFoot{"sliding_gate"},
    BarrierOnFoot{"hampshire_gate"},
    BarrierOnFoot{"wicket_gate"},
    BarrierOnFoot{"kissing_gate"},
    BarrierOnFoot{"lift_gate"},
    BarrierOnFoot{"stile"},
    BarrierOnFoot{"horse_stile"},
    BarrierOnFoot{"turnstile"},
    BarrierOnFoot{"full-height_turnstile"},
    BarrierOnFoot{"bollard"},
    BarrierOnFoot{"block"},
    BarrierOnFoot{"chain"},
    BarrierOnFoot{"rope"},
    BarrierOnFoot{"cycle_barrier"},
    BarrierOnFoot{"motorcycle_barrier"},
    BarrierOnFoot{"bus_trap"},
    BarrierOnFoot{"jersey_barrier"},
    BarrierOnFoot{"planter"},
    BarrierOnFoot{"log"},
    BarrierOnFoot{"debris"},
    BarrierOnFoot{"kerb", true, line_crosses},
    BarrierOnFoot{"wall", true, line_crosses},
    BarrierOnFoot{"fence", true, line_crosses},
    BarrierOnFoot{"hedge", true, line_crosses},
    BarrierOnFoot{"retaining_wall", true, line_crosses},
    BarrierOnFoot{"city_wall", true, line_crosses},
    BarrierOnFoot{"ditch", true, line_crosses},
    BarrierOnFoot{"guard_rail", true, line_crosses},
    BarrierOnFoot{"handrail", true, line_crosses},
    BarrierOnFoot{"yes", false, "barriers of no stated kind: taken as closed"},
};

constexpr std::array keys{AccessKey{"foot", "foot:forward", "foot:backward", "foot:conditional"}, access_for_all};

/// Conditions on weight and size are on vehicles: the walker is smaller and lighter than any sign.
constexpr Vehicle walker{geo::Metres{0}, geo::Metres{0}, geo::Metres{0}, geo::Tonnes{0}, false};

AccessRuling read_keys(const Tags& tags, Direction direction, Remarks& remarks) {
    AccessRuling ruling = read_access_keys(tags, keys, direction, walker, remarks);
    // A walk in has its end where it leads.
    if (ruling.access == Access::destination_only)
        ruling.access = Access::open;
    for (TimedAccess& at : ruling.at_hours)
        if (at.access == Access::destination_only)
            at.access = Access::open;
    if (lower_case(tags["foot"]) == "discouraged")
        ruling.doubtful = true;
    return ruling;
}

const FootClass* find_class(std::string_view highway) {
    const auto row =
        std::find_if(classes.begin(), classes.end(), [&](const FootClass& c) { return c.highway == highway; });
    return row == classes.end() ? nullptr : &*row;
}

/// Why the way is shut to walkers, whatever its access keys say; null when it is not.
const char* closed_outright(const Tags& tags, const FootClass* row) {
    if (!tags.has("highway"))
        return "ferries: not part of a walk";
    if (!row)
        return "ways of a class not known: closed";
    if (row->access == never)
        return "ways of a class nobody may walk";
    if (tags["area"] == "yes" && !may_be_square(tags))
        return "areas tagged as roads: not walked";
    if (tags["winter_road"] == "yes" || tags["ice_road"] == "yes")
        return "winter and ice roads: closed";
    if (tags["ford"] == "boat")
        return "fords nobody can wade: closed";
    return nullptr;
}

/// What the class makes of what the keys say; nothing when no key speaks.
Access access_on_class(const Tags& tags, const FootClass& row, std::optional<Access> tagged, bool by_mode_key) {
    if (tagged == Access::forbidden || by_mode_key)
        return tagged.value_or(Access::open);
    return row.access == open_if_tagged || tags["motorroad"] == "yes" ? Access::forbidden : Access::open;
}

SettledAccess access_of(const Tags& tags, const FootClass& row, Direction direction, std::uint16_t& notes,
                        Remarks& remarks) {
    AccessRuling own = read_keys(tags, direction, remarks);
    if (own.doubtful)
        notes |= note_doubtful_access;
    const Access at_other_hours = access_on_class(tags, row, own.access, own.by_mode_key);
    if (row.access == doubtful && !own.access) {
        remarks.push_back("cycleways and bridleways without foot tag: taken as open to walkers");
        notes |= note_doubtful_access;
    }
    for (TimedAccess& at : own.at_hours)
        at.access = access_on_class(tags, row, at.access, at.by_mode_key);
    return settle(at_other_hours, own.at_hours, Traffic::through, remarks);
}

/// The hardest grade of a list decides.
double share_of_pace(const Tags& tags, Remarks& remarks) {
    double share = 1.0;
    for (const std::string_view item : split_list(tags["sac_scale"], ";,|")) {
        const std::string lower = lower_case(item);
        const auto grade = std::find_if(hiking_grades.begin(), hiking_grades.end(),
                                        [&](const HikingGrade& g) { return g.sac_scale == lower; });
        if (grade == hiking_grades.end())
            remarks.push_back("hiking grades not understood: path closed");
        else if (grade->share_of_pace <= 0.0)
            remarks.push_back("paths harder than mountain hiking: closed");
        share = std::min(share, grade == hiking_grades.end() ? 0.0 : grade->share_of_pace);
    }
    return share;
}

OnewayRuling read_oneway_on_foot(const Tags& tags, Remarks& remarks) {
    if (!tags.has("oneway:foot"))
        return {};
    if (const auto meaning = oneway_meaning(tags["oneway:foot"]))
        return *meaning;
    remarks.push_back("oneway values not understood: taken as one-way");
    return {true, false, false, true};
}

bool fords(const Tags& tags) {
    return tags.has("ford") && tags["ford"] != "no";
}

WayRuling rule(const Tags& tags, Remarks& remarks) {
    const FootClass* row = find_class(tags["highway"]);
    WayRuling ruling;
    if (const char* reason = closed_outright(tags, row)) {
        remarks.push_back(reason);
        return ruling;
    }
    const double share = share_of_pace(tags, remarks);
    if (share <= 0.0)
        return ruling;
    const OnewayRuling oneway = read_oneway_on_foot(tags, remarks);
    const SettledAccess forward = access_of(tags, *row, Direction::forward, ruling.notes, remarks);
    const SettledAccess backward = access_of(tags, *row, Direction::backward, ruling.notes, remarks);
    ruling.forward = forward.access != Access::forbidden && oneway.forward;
    ruling.backward = backward.access != Access::forbidden && oneway.backward;
    if (!ruling.drivable()) {
        remarks.push_back("ways closed to walkers");
        return ruling;
    }
    ruling.forward_speed = ruling.backward_speed = row->pace * share;
    if (oneway.doubtful)
        ruling.notes |= note_doubtful_access;
    if (tags["highway"] == "steps")
        ruling.notes |= note_steps;
    if (fords(tags))
        ruling.notes |= note_ford;
    if (std::find(hard_to_see.begin(), hard_to_see.end(), lower_case(tags["trail_visibility"])) != hard_to_see.end())
        ruling.notes |= note_not_in_darkness;
    add_hours(tags, forward, backward, ruling, remarks);
    return ruling;
}

} // namespace

WayRuling rule_way_on_foot(const Tags& tags, Remarks& remarks) {
    const WayRuling ruling = rule(tags, remarks);
    // Both directions read the same tags: say each thing once a way.
    std::sort(remarks.begin(), remarks.end());
    remarks.erase(std::unique(remarks.begin(), remarks.end()), remarks.end());
    return ruling;
}

NodeRuling rule_node_on_foot(const Tags& tags, Remarks& remarks) {
    NodeRuling ruling;
    if (fords(tags))
        ruling.notes |= note_ford;
    const std::string barrier = lower_case(trimmed(tags["barrier"]));
    const bool stands_there = !barrier.empty() && barrier != "no";
    // On a crossing `foot` is about those who cross the road, not about those who walk along it.
    if (!stands_there && (!tags.has("foot") || tags.has("highway") || tags.has("railway")))
        return ruling;
    const AccessRuling own = read_keys(tags, Direction::forward, remarks);
    const RoadHours hours = stands_there ? read_road_hours(tags, remarks) : RoadHours{};
    if (own.doubtful || hours.doubtful)
        ruling.notes |= note_doubtful_access;
    if (own.access) {
        ruling.access = *own.access;
    } else if (stands_there) {
        const auto kind = std::find_if(barriers.begin(), barriers.end(),
                                       [&](const BarrierOnFoot& b) { return b.barrier == barrier; });
        if (kind == barriers.end())
            remarks.push_back("barriers of unknown kind: taken as closed");
        else if (!kind->remark.empty())
            remarks.push_back(kind->remark);
        ruling.access = kind != barriers.end() && kind->passes ? Access::open : Access::forbidden;
    }
    const SettledAccess settled = settle(ruling.access, own.at_hours, Traffic::through, remarks);
    ruling.access = hours.readable ? settled.access : Access::forbidden;
    if (settled.rule)
        ruling.time_rules.push_back(*settled.rule);
    ruling.time_rules.insert(ruling.time_rules.end(), hours.rules.begin(), hours.rules.end());
    if (tags["locked"] == "yes" && ruling.access == Access::open) {
        remarks.push_back("locked gates: taken as passable on foot, to be looked at");
        ruling.notes |= note_gate;
    }
    ruling.is_barrier = ruling.access == Access::forbidden || ruling.notes != note_none || !ruling.time_rules.empty();
    return ruling;
}

bool may_be_square(const Tags& tags) {
    const std::string_view highway = tags["highway"];
    if (highway == "pedestrian")
        return tags["area"] != "no";
    return (highway == "footway" || highway == "path") && tags["area"] == "yes";
}

} // namespace routing::roads::foot
