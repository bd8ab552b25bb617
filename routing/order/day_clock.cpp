#include "routing/order/day_clock.hpp"

namespace routing::order {

MealRule meal_rule(const Meal& meal, const Day& day, Instant origin) {
    MealRule rule;
    rule.service = meal.service.count();
    rule.earliest = since(origin, meal.within.earliest);
    rule.latest_start = since(origin, meal.within.latest) - rule.service;
    rule.free_wrap = rule.latest_start;
    rule.latest_start = std::min(rule.latest_start, since(origin, day.latest_wrap) - rule.service);
    rule.free_call = rule.earliest + rule.service;
    rule.anywhere = meal.anywhere;
    if (day.called_at) {
        const Time call = since(origin, *day.called_at);
        if (meal.within_of_call)
            rule.latest_start = std::min(rule.latest_start, call + meal.within_of_call->count());
        rule.free_call = rule.free_call <= call ? -no_limit : no_limit;
    } else if (meal.within_of_call &&
               since(origin, day.earliest_call) + meal.within_of_call->count() < rule.latest_start) {
        rule.within_of_call = meal.within_of_call->count();
    }
    return rule;
}

std::optional<std::vector<Span>> open_starts(const Meal& meal, const MealRule& rule, Point point, Instant origin) {
    const auto known =
        std::find_if(meal.hours.begin(), meal.hours.end(), [point](const MealHours& h) { return h.point == point; });
    if (known == meal.hours.end())
        return std::nullopt;
    std::vector<Span> starts;
    for (const TimeWindow& window : known->open) {
        const Time opens = since(origin, window.earliest);
        const Time last = since(origin, window.latest) - rule.service;
        if (opens <= rule.earliest && rule.latest_start <= last)
            return std::nullopt;
        const Span start{std::max(opens, rule.earliest), std::min(last, rule.latest_start)};
        if (start.earliest <= start.latest)
            starts.push_back(start);
    }
    return starts;
}

} // namespace routing::order
