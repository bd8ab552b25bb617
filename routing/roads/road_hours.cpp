#include "routing/roads/road_hours.hpp"

#include "routing/hours/condition.hpp"
#include "routing/roads/conditional.hpp"
#include "routing/roads/network.hpp"
#include "routing/roads/tag_text.hpp"

#include <algorithm>

namespace routing::roads {
namespace {

constexpr std::string_view by_the_hour = "roads and gates with hours or a season: heeded by the hour";

/// Shut but while one of `times` holds.
TimeRule open_only(const std::vector<std::string>& times) {
    TimeRule rule{false, {}};
    for (const std::string& time : times)
        rule.clauses.push_back({true, {time}});
    return rule;
}

} // namespace

SettledAccess settle(Access at_other_hours, const std::vector<TimedAccess>& at_hours, Traffic traffic,
                     Remarks& remarks) {
    SettledAccess settled{at_other_hours, std::nullopt};
    const auto some = [&](Access access) {
        return std::any_of(at_hours.begin(), at_hours.end(),
                           [&](const TimedAccess& at) { return at.access == access; });
    };
    if (at_other_hours == Access::forbidden) {
        settled.access = some(Access::destination_only) ? Access::destination_only
                         : some(Access::open)           ? Access::open
                                                        : Access::forbidden;
    } else if (at_other_hours == Access::open && traffic == Traffic::local && some(Access::destination_only)) {
        remarks.push_back("local roads for visitors only at some hours: at all hours");
        settled.access = Access::destination_only;
    }
    if (settled.access == Access::forbidden)
        return settled;
    TimeRule rule{at_other_hours <= settled.access, {}};
    bool ever_shut = !rule.open;
    for (const TimedAccess& at : at_hours) {
        rule.clauses.push_back({at.access <= settled.access, at.when});
        ever_shut |= !rule.clauses.back().open;
    }
    if (ever_shut) {
        remarks.push_back(by_the_hour);
        settled.rule = std::move(rule);
    }
    return settled;
}

RoadHours read_road_hours(const Tags& tags, Remarks& remarks) {
    RoadHours road;
    const std::string_view open = trimmed(tags["opening_hours"]);
    if (!open.empty() && open != "24/7") {
        if (hours::is_time_condition(open)) {
            remarks.push_back(by_the_hour);
            road.rules.push_back(open_only({std::string(open)}));
        } else {
            remarks.push_back("roads and gates whose opening hours can't be read: closed");
            road.readable = false;
        }
    }
    std::vector<std::string> seasons;
    for (const std::string_view item : split_list(tags["seasonal"], ";,")) {
        const std::string lower = lower_case(item);
        if (is_season(lower))
            seasons.push_back(lower);
        else if (hours::is_time_condition(item))
            seasons.emplace_back(item);
        else if (lower != "no")
            road.doubtful = true;
    }
    if (!seasons.empty()) {
        remarks.push_back(by_the_hour);
        road.rules.push_back(open_only(seasons));
    } else if (road.doubtful) {
        remarks.push_back("seasonal roads that don't say their season: sign must be checked");
    }
    return road;
}

void add_hours(const Tags& tags, const SettledAccess& forward, const SettledAccess& backward, WayRuling& ruling,
               Remarks& remarks) {
    const RoadHours hours = read_road_hours(tags, remarks);
    if (!hours.readable)
        ruling.forward = ruling.backward = false;
    if (ruling.forward && forward.rule)
        ruling.time_rules.push_back(*forward.rule);
    if (ruling.backward && backward.rule && !(ruling.forward && backward.rule == forward.rule))
        ruling.time_rules.push_back(*backward.rule);
    ruling.time_rules.insert(ruling.time_rules.end(), hours.rules.begin(), hours.rules.end());
    if (hours.doubtful || !ruling.time_rules.empty())
        ruling.notes |= note_doubtful_access;
}

} // namespace routing::roads
