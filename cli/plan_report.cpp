#include "cli/plan_report.hpp"

#include "cli/json_fields.hpp"
#include "cli/json_value.hpp"
#include "cli/number_text.hpp"
#include "cli/plain_text.hpp"

namespace cli {

using routing::shoot::Plan;
using routing::shoot::PlanDay;
using routing::shoot::PlanFault;
using routing::shoot::PlanStop;

bool is_plan(const std::string& text) {
    try {
        Faults ignored("");
        const JsonValue json = parse_json(text, ignored);
        return json.find("dayweave") != nullptr && json.find("scenes") == nullptr;
    } catch (const geo::InputError&) {
        return false; // its reader tells what is broken
    }
}

std::vector<geo::InputFault> plan_faults(const std::vector<PlanFault>& faults, const std::string& file) {
    std::vector<geo::InputFault> list;
    for (const PlanFault& fault : faults)
        list.push_back({file, fault.field, shown(fault.value),
                        one_line(fault.problem) + (fault.where.empty() ? "" : " (" + one_line(fault.where) + ")"),
                        "should be " + one_line(fault.should_be)});
    return list;
}

std::string sound_plan_report(const Plan& plan, const routing::shoot::Shoot& shoot) {
    std::size_t stops = 0, legs = 0, past = 0;
    for (const PlanDay& day : plan.days)
        for (const PlanStop& stop : day.stops) {
            ++stops;
            past += stop.is_begun() ? 1 : 0;
            legs += stop.leg.total.count() > 0 ? 1 : 0;
        }
    std::string text = "No faults. " + escape_markdown(shoot.title) + ": " + count_text(plan.days.size(), "day") +
                       ", " + count_text(stops, "stop") + ", " + count_text(legs, "leg") + " reckoned anew.\n";
    if (past > 0)
        text += count_text(past, "stop") + " already begun, taken as told.\n";
    return text + "Whether another order would be better was not asked.\n";
}

} // namespace cli
