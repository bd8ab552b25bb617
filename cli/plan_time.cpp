#include "cli/plan_time.hpp"

#include "cli/plain_text.hpp"
#include "geo/input_error.hpp"
#include "routing/shoot/scene_light.hpp"

#include <algorithm>

namespace cli {

namespace {

/// The part of time a day of the plan stands for.
geo::Interval span_of(const routing::shoot::PlanDay& day, const routing::shoot::Shoot& shoot) {
    geo::Interval span{day.call, std::max(day.call, day.wrap)};
    for (const auto& own : shoot.days) {
        if (own.date != day.date)
            continue;
        const geo::Interval working = routing::shoot::working_span(own, shoot.zone);
        span = {std::min(span.from, working.from), std::max(span.until, working.until)};
    }
    return span;
}

} // namespace

geo::Instant parse_plan_time(const std::string& text, const std::string& option, const routing::shoot::Shoot& shoot,
                             const routing::shoot::Plan& plan) {
    const auto refuse = [&](const std::string& problem, const std::string& mend) {
        throw geo::InputError({{"", option, shown(text), problem, mend}});
    };
    const auto clock = geo::parse_clock(text);
    if (!clock) {
        const auto when = geo::parse_instant(text, shoot.zone);
        if (!when)
            refuse("is no time", "write 2027-05-14T14:05, or 14:05");
        return *when;
    }
    std::vector<geo::Instant> found;
    for (const auto& day : plan.days) {
        const geo::Interval span = span_of(day, shoot);
        for (const int later : {0, 1}) { // a day may run past midnight
            const geo::CivilDate date{std::chrono::sys_days(day.date) + std::chrono::days(later)};
            const geo::Instant when = geo::instant_of(date, *clock, shoot.zone);
            if (when >= span.from && when <= span.until)
                found.push_back(when);
        }
    }
    std::sort(found.begin(), found.end());
    found.erase(std::unique(found.begin(), found.end()), found.end());
    if (found.empty())
        refuse("falls into no day of the plan", "give date and time, like 2027-05-14T14:05");
    if (found.size() > 1)
        refuse("falls into several days of the plan",
               "give the date too, like " + geo::iso_text(found.front(), shoot.zone).substr(0, 16));
    return found.front();
}

} // namespace cli
