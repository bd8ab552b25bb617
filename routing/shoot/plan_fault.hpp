#pragma once
/// What is wrong with a plan, told so that who edits a plan.json by hand finds it.
///
///     PlanFaults faults(plan, shoot.zone);
///     faults.at_stop(day, stop, "arrive", faults.text(told), "is not when the leg there ends", faults.text(due));

#include "routing/shoot/plan.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace routing::shoot {

struct PlanFault {
    std::string field;     ///< JSON Pointer into plan.json: "/days/0/stops/2/arrive"
    std::string where;     ///< "day 1, stop 3, Opening at the Arch"; "day 1"; empty for the whole plan
    std::string value;     ///< what stands there; empty when nothing does
    std::string problem;   ///< "is not when the leg there ends"
    std::string should_be; ///< "2027-09-10T09:35:20+00:00", "at least 600 s"
    friend bool operator==(const PlanFault&, const PlanFault&) = default;
};

/// Collects them. Refers to plan and zone.
class PlanFaults {
public:
    PlanFaults(const Plan& plan, const geo::TimeZone& zone) : plan_(plan), zone_(zone) {}

    void in_plan(const std::string& field, const std::string& value, const std::string& problem,
                 const std::string& should_be);
    void at_day(std::size_t day, const std::string& member, const std::string& value, const std::string& problem,
                const std::string& should_be);
    void at_stop(std::size_t day, std::size_t stop, const std::string& member, const std::string& value,
                 const std::string& problem, const std::string& should_be);

    std::string text(Instant when) const { return geo::iso_text(when, zone_); }
    static std::string text(Seconds span) { return std::to_string(span.count()) + " s"; }
    static std::string text(geo::Metres length);
    static std::string text(geo::Degrees angle);

    std::size_t size() const { return faults_.size(); }
    std::vector<PlanFault> take() { return std::move(faults_); }

private:
    const Plan& plan_;
    const geo::TimeZone& zone_;
    std::vector<PlanFault> faults_;
};

} // namespace routing::shoot
