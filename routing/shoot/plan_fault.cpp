#include "routing/shoot/plan_fault.hpp"

#include <cstdio>

namespace routing::shoot {

void PlanFaults::in_plan(const std::string& field, const std::string& value, const std::string& problem,
                         const std::string& should_be) {
    faults_.push_back({field, "", value, problem, should_be});
}

void PlanFaults::at_day(std::size_t day, const std::string& member, const std::string& value,
                        const std::string& problem, const std::string& should_be) {
    faults_.push_back(
        {"/days/" + std::to_string(day) + "/" + member, "day " + std::to_string(day + 1), value, problem, should_be});
}

void PlanFaults::at_stop(std::size_t day, std::size_t stop, const std::string& member, const std::string& value,
                         const std::string& problem, const std::string& should_be) {
    const PlanStop& told = plan_.days[day].stops[stop];
    const std::string name = told.what.empty() || told.what == told.name ? told.name : told.what + " at " + told.name;
    faults_.push_back({"/days/" + std::to_string(day) + "/stops/" + std::to_string(stop) + "/" + member,
                       "day " + std::to_string(day + 1) + ", stop " + std::to_string(stop + 1) + ", " + name, value,
                       problem, should_be});
}

std::string PlanFaults::text(geo::Metres length) {
    char text[48];
    std::snprintf(text, sizeof text, "%.0f m", length.value);
    return text;
}

std::string PlanFaults::text(geo::Degrees angle) {
    char text[48];
    std::snprintf(text, sizeof text, "%.2f degrees", angle.value);
    return text;
}

} // namespace routing::shoot
