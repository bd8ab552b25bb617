#include "routing/roads/barrier.hpp"

#include "routing/roads/network.hpp"
#include "routing/roads/road_hours.hpp"
#include "routing/roads/tag_text.hpp"

#include <algorithm>
#include <array>

namespace routing::roads {
namespace {

struct BarrierKind {
    std::string_view barrier;
    Access access; ///< when the node has no access keys
    int seconds;   ///< to pass where it is open
    std::uint16_t notes;
    std::string_view remark; ///< counted when it decides without access keys; may be empty
};

constexpr std::string_view gate_assumed_open = "gates without access tag: taken as openable";
constexpr std::string_view line_crosses = "walls, fences or kerbs sharing a road node: taken as open";

constexpr std::array kinds{
    BarrierKind{"cattle_grid", Access::open, 0, 0, ""},
    BarrierKind{"entrance", Access::open, 0, 0, ""},
    BarrierKind{"toll_booth", Access::open, 30, note_toll, ""},
    BarrierKind{"border_control", Access::open, 0, 0, ""},
    BarrierKind{"bump_gate", Access::open, 0, 0, ""},
    BarrierKind{"height_restrictor", Access::open, 0, note_low_clearance, ""},
    BarrierKind{"width_restrictor", Access::open, 0, note_low_clearance, ""},
    BarrierKind{"sally_port", Access::open, 0, 0, ""},
    BarrierKind{"kerb", Access::open, 0, 0, line_crosses},
    BarrierKind{"wall", Access::open, 0, 0, line_crosses},
    BarrierKind{"fence", Access::open, 0, 0, line_crosses},
    BarrierKind{"hedge", Access::open, 0, 0, line_crosses},
    BarrierKind{"retaining_wall", Access::open, 0, 0, line_crosses},
    BarrierKind{"city_wall", Access::open, 0, 0, line_crosses},
    BarrierKind{"ditch", Access::open, 0, 0, line_crosses},
    BarrierKind{"guard_rail", Access::open, 0, 0, line_crosses},
    BarrierKind{"handrail", Access::open, 0, 0, line_crosses},
    // The wiki gives gates no default: most on public roads open, so pass slowly and say so.
    BarrierKind{"gate", Access::open, 45, note_gate, gate_assumed_open},
    BarrierKind{"swing_gate", Access::open, 45, note_gate, gate_assumed_open},
    BarrierKind{"sliding_gate", Access::open, 45, note_gate, gate_assumed_open},
    BarrierKind{"hampshire_gate", Access::open, 45, note_gate, gate_assumed_open},
    // Its page: private is assumed for motor vehicles.
    BarrierKind{"lift_gate", Access::forbidden, 45, note_gate, ""},
    BarrierKind{"bollard", Access::forbidden, 0, 0, ""},
    BarrierKind{"block", Access::forbidden, 0, 0, ""},
    BarrierKind{"chain", Access::forbidden, 45, note_gate, ""},
    BarrierKind{"rope", Access::forbidden, 45, note_gate, ""},
    BarrierKind{"cycle_barrier", Access::forbidden, 0, 0, ""},
    BarrierKind{"motorcycle_barrier", Access::forbidden, 0, 0, ""},
    BarrierKind{"bus_trap", Access::forbidden, 0, 0, ""},
    BarrierKind{"jersey_barrier", Access::forbidden, 0, 0, ""},
    BarrierKind{"planter", Access::forbidden, 0, 0, ""},
    BarrierKind{"log", Access::forbidden, 0, 0, ""},
    BarrierKind{"debris", Access::forbidden, 0, 0, ""},
    BarrierKind{"stile", Access::forbidden, 0, 0, ""},
    BarrierKind{"kissing_gate", Access::forbidden, 0, 0, ""},
    BarrierKind{"wicket_gate", Access::forbidden, 0, 0, ""},
    BarrierKind{"turnstile", Access::forbidden, 0, 0, ""},
    BarrierKind{"full-height_turnstile", Access::forbidden, 0, 0, ""},
    BarrierKind{"horse_stile", Access::forbidden, 0, 0, ""},
    BarrierKind{"yes", Access::forbidden, 0, 0, "barriers of no stated kind: taken as closed"},
};

const BarrierKind* find_kind(std::string_view barrier) {
    const auto kind =
        std::find_if(kinds.begin(), kinds.end(), [&](const BarrierKind& k) { return k.barrier == barrier; });
    return kind == kinds.end() ? nullptr : &*kind;
}

Access access_of_kind(std::string_view barrier, const Tags& tags, Remarks& remarks) {
    const BarrierKind* kind = find_kind(barrier);
    if (!kind) {
        remarks.push_back("barriers of unknown kind: taken as closed");
        return Access::forbidden;
    }
    if (barrier == "bollard" && (tags["bollard"] == "rising" || tags["bollard"] == "removable"))
        remarks.push_back("rising or removable bollards: closed");
    else if (!kind->remark.empty())
        remarks.push_back(kind->remark);
    return kind->access;
}

} // namespace

BarrierRuling read_barrier(const Tags& tags, const Vehicle& vehicle, Remarks& remarks) {
    const std::string barrier = lower_case(trimmed(tags["barrier"]));
    BarrierRuling ruling;
    if (barrier.empty() || barrier == "no")
        return ruling;
    if (const BarrierKind* kind = find_kind(barrier)) {
        ruling.delay = geo::Seconds{kind->seconds};
        ruling.notes = kind->notes;
    }
    if (tags["locked"] == "yes") {
        remarks.push_back("locked gates: closed");
        ruling.access = Access::forbidden;
        return ruling;
    }
    const AccessRuling own = read_access(tags, Direction::forward, vehicle, remarks);
    if (own.doubtful)
        ruling.notes |= note_doubtful_access;
    const RoadHours hours = read_road_hours(tags, remarks);
    if (hours.doubtful)
        ruling.notes |= note_doubtful_access;
    const Access at_other_hours = own.access ? *own.access : access_of_kind(barrier, tags, remarks);
    const SettledAccess settled = settle(at_other_hours, own.at_hours, Traffic::through, remarks);
    ruling.access = hours.readable ? settled.access : Access::forbidden;
    if (settled.rule)
        ruling.time_rules.push_back(*settled.rule);
    ruling.time_rules.insert(ruling.time_rules.end(), hours.rules.begin(), hours.rules.end());
    if (!ruling.time_rules.empty())
        ruling.notes |= note_doubtful_access;
    return ruling;
}

} // namespace routing::roads
