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

} // namespace routing::order
