#include "routing/roads/way_rules.hpp"

#include "routing/roads/access.hpp"
#include "routing/roads/network.hpp"
#include "routing/roads/oneway.hpp"
#include "routing/roads/road_class.hpp"
#include "routing/roads/road_hours.hpp"
#include "routing/roads/size_limit.hpp"
#include "routing/roads/speed.hpp"
#include "routing/roads/surface.hpp"
#include "routing/roads/tag_text.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace routing::roads {
namespace {

using geo::KilometresPerHour;

constexpr double share_of_legal = 0.9;
constexpr double share_of_figure = 1.25;
constexpr KilometresPerHour town_limit{50};
constexpr KilometresPerHour track_of_unknown_grade{20};
constexpr geo::Seconds single_file_wait{60};
constexpr geo::Seconds ford_crossing{30};
constexpr double steep_percent = 15.0; // our figure: a loaded van's driver wants to know

struct ServiceKind {
    std::string_view service;
    KilometresPerHour speed;
};
constexpr std::array service_kinds{
    ServiceKind{"driveway", {10}},
    ServiceKind{"parking_aisle", {10}},
    ServiceKind{"alley", {12}},
    ServiceKind{"drive-through", {10}},
};

bool is_town(const Tags& tags, const LegalSpeed& legal) {
    const std::string_view sidewalk = tags["sidewalk"];
    return legal.urban_zone || (legal.limit && *legal.limit <= town_limit) || tags["lit"] == "yes" ||
           sidewalk == "both" || sidewalk == "left" || sidewalk == "right" || sidewalk == "yes";
}

KilometresPerHour figure_of(const Tags& tags, const RoadClass& road, const LegalSpeed& legal) {
    if (road.access == ClassAccess::track && !tags.has("tracktype"))
        return track_of_unknown_grade;
    if (road.highway == "service")
        for (const ServiceKind& kind : service_kinds)
            if (tags["service"] == kind.service)
                return kind.speed;
    return is_town(tags, legal) ? road.urban : road.rural;
}

KilometresPerHour travel_speed(const Tags& tags, const RoadClass& road, const SurfaceRuling& surface,
                               Direction direction, const Vehicle& vehicle, Remarks& remarks) {
    const LegalSpeed legal = read_legal_speed(tags, direction, vehicle, remarks);
    const KilometresPerHour figure = figure_of(tags, road, legal);
    KilometresPerHour speed = figure;
    if (legal.limit)
        speed = std::min(share_of_legal * *legal.limit, share_of_figure * figure);
    if (surface.cap)
        speed = std::min(speed, *surface.cap);
    return speed;
}

/// What the class makes of what the keys say; nothing when no key speaks.
Access access_on_class(const Tags& tags, const RoadClass& road, std::optional<Access> keys, bool by_mode_key,
                       std::uint16_t& notes, Remarks& remarks) {
    const Access tagged = keys.value_or(Access::open);
    switch (road.access) {
    case ClassAccess::open:
        if (!keys && tags["service"] == "driveway") {
            remarks.push_back("driveways without access tag: only to stops on them");
            return Access::destination_only;
        }
        return tagged;
    case ClassAccess::open_if_tagged:
        return by_mode_key ? tagged : Access::forbidden;
    case ClassAccess::track: {
        const std::string_view grade = tags["tracktype"];
        if (by_mode_key || tagged == Access::forbidden)
            return tagged;
        if (grade == "grade1" || grade == "grade2") {
            remarks.push_back("firm tracks without motor vehicle tag: taken as open");
            notes |= note_doubtful_access;
            return tagged;
        }
        return Access::forbidden;
    }
    default:
        return Access::forbidden;
    }
}

Traffic traffic_of(std::string_view highway) {
    constexpr std::array through{"motorway", "trunk", "primary", "secondary", "tertiary", "unclassified", "road"};
    return highway.ends_with("_link") || std::find(through.begin(), through.end(), highway) != through.end()
               ? Traffic::through
               : Traffic::local;
}

/// Access in one direction: what the keys say, else what the class implies.
SettledAccess access_of(const Tags& tags, const RoadClass& road, Direction direction, const Vehicle& vehicle,
                        std::uint16_t& notes, Remarks& remarks) {
    AccessRuling ruling = read_access(tags, direction, vehicle, remarks);
    if (ruling.doubtful)
        notes |= note_doubtful_access;
    const Access at_other_hours = access_on_class(tags, road, ruling.access, ruling.by_mode_key, notes, remarks);
    for (TimedAccess& at : ruling.at_hours)
        at.access = access_on_class(tags, road, at.access, at.by_mode_key, notes, remarks);
    return settle(at_other_hours, ruling.at_hours, traffic_of(tags["highway"]), remarks);
}

/// Why the way is shut to every vehicle of ours, whatever its access keys say; null when it is not.
const char* closed_outright(const Tags& tags, const RoadClass& road) {
    if (road.access == ClassAccess::never)
        return is_known_road_class(tags["highway"]) ? "ways of a class no van may use"
                                                    : "ways of a class not known: closed";
    if (tags["area"] == "yes")
        return "areas tagged as roads: not driven";
    if (tags["service"] == "emergency_access")
        return "roads closed to motor vehicles";
    if (tags["winter_road"] == "yes" || tags["ice_road"] == "yes")
        return "winter and ice roads: closed";
    if (tags["ford"] == "stepping_stones" || tags["ford"] == "boat")
        return "fords no van can cross: closed";
    return nullptr;
}

void add_plain_notes(const Tags& tags, WayRuling& ruling) {
    if (tags["toll"] == "yes" || tags["toll:motorcar"] == "yes" || tags["toll:motor_vehicle"] == "yes")
        ruling.notes |= note_toll;
    if (tags.has("ford") && tags["ford"] != "no") {
        ruling.notes |= note_ford;
        ruling.extra += ford_crossing;
    }
    const std::string_view incline = tags["incline"];
    const auto percent = leading_number(incline.starts_with("-") ? incline.substr(1) : incline);
    if (percent && percent->rest == "%" && percent->value >= steep_percent)
        ruling.notes |= note_steep;
}

WayRuling rule_ferry(const Tags& tags, const Vehicle& vehicle, Remarks& remarks) {
    WayRuling ruling;
    ruling.ferry = true;
    ruling.notes = note_ferry;
    const OnewayRuling oneway = read_oneway(tags, vehicle, remarks);
    const auto carries = [&](Direction direction) {
        AccessRuling access = read_access(tags, direction, vehicle, remarks);
        if (access.doubtful)
            ruling.notes |= note_doubtful_access;
        for (TimedAccess& at : access.at_hours)
            at.access = at.by_mode_key ? at.access : Access::forbidden;
        return settle(access.by_mode_key ? *access.access : Access::forbidden, access.at_hours, Traffic::through,
                      remarks);
    };
    const SettledAccess forward = carries(Direction::forward);
    const SettledAccess backward = carries(Direction::backward);
    ruling.forward = oneway.forward && forward.access != Access::forbidden;
    ruling.backward = oneway.backward && backward.access != Access::forbidden;
    if (!ruling.drivable()) {
        remarks.push_back("ferries not tagged for motor vehicles: closed");
        return ruling;
    }
    add_hours(tags, forward, backward, ruling, remarks);
    return ruling;
}

WayRuling rule_road(const Tags& tags, const Vehicle& vehicle, Remarks& remarks) {
    WayRuling ruling;
    const RoadClass& road = road_class(tags["highway"]);
    if (const char* reason = closed_outright(tags, road)) {
        remarks.push_back(reason);
        return ruling;
    }
    const OnewayRuling oneway = read_oneway(tags, vehicle, remarks);
    const SettledAccess forward = access_of(tags, road, Direction::forward, vehicle, ruling.notes, remarks);
    const SettledAccess backward = access_of(tags, road, Direction::backward, vehicle, ruling.notes, remarks);
    if (forward.access == Access::forbidden && backward.access == Access::forbidden) {
        remarks.push_back(road.access == ClassAccess::open ? "roads closed to motor vehicles"
                                                           : "paths and tracks that no tag opens to motor vehicles");
        return ruling;
    }
    const SurfaceRuling surface = read_surface(tags, vehicle, remarks);
    if (!surface.passable)
        return ruling;
    const SizeRuling forward_size = read_size_limits(tags, Direction::forward, vehicle, remarks);
    const SizeRuling backward_size = read_size_limits(tags, Direction::backward, vehicle, remarks);
    ruling.notes |= surface.notes | forward_size.notes | backward_size.notes;
    if (oneway.doubtful)
        ruling.notes |= note_doubtful_access;
    if (road.access == ClassAccess::track)
        ruling.notes |= note_track;

    ruling.forward = oneway.forward && forward.access != Access::forbidden && forward_size.passable;
    ruling.backward = oneway.backward && backward.access != Access::forbidden && backward_size.passable;
    ruling.destination_only = (ruling.forward && forward.access == Access::destination_only) ||
                              (ruling.backward && backward.access == Access::destination_only);
    ruling.forward_speed = travel_speed(tags, road, surface, Direction::forward, vehicle, remarks);
    ruling.backward_speed = travel_speed(tags, road, surface, Direction::backward, vehicle, remarks);
    if (oneway.takes_turns)
        ruling.extra += single_file_wait;
    add_plain_notes(tags, ruling);
    add_hours(tags, forward, backward, ruling, remarks);
    return ruling;
}

} // namespace

WayRuling rule_way(const Tags& tags, const Vehicle& vehicle, Remarks& remarks) {
    const WayRuling ruling =
        tags.has("highway") ? rule_road(tags, vehicle, remarks) : rule_ferry(tags, vehicle, remarks);
    // Both directions read the same tags: say each thing once a way.
    std::sort(remarks.begin(), remarks.end());
    remarks.erase(std::unique(remarks.begin(), remarks.end()), remarks.end());
    return ruling;
}

} // namespace routing::roads
