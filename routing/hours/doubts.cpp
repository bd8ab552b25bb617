#include "routing/hours/doubts.hpp"

#include <algorithm>

namespace routing::hours {
namespace {

constexpr unsigned all_weekdays = 0x7f;

/// Bit 0 Monday to bit 6 Sunday.
unsigned mask_of(const WeekdaySpan& span) {
    unsigned mask = 0;
    for (unsigned day = span.first;; day = (day + 1) % 7) {
        mask |= 1U << day;
        if (day == span.last)
            return mask;
    }
}

/// The weekdays a rule may hold on; none when it names holidays alone.
unsigned may_hold(const Rule& rule) {
    if (rule.weekdays.empty())
        return rule.holidays.empty() ? all_weekdays : 0;
    unsigned mask = 0;
    for (const WeekdaySpan& span : rule.weekdays)
        mask |= span.shift == 0 ? mask_of(span) : all_weekdays;
    return mask;
}

/// The weekdays it surely holds on, within its part of the year.
unsigned surely_holds(const Rule& rule) {
    if (rule.weekday_in_holiday)
        return 0;
    if (rule.weekdays.empty())
        return rule.holidays.empty() ? all_weekdays : 0;
    unsigned mask = 0;
    for (const WeekdaySpan& span : rule.weekdays)
        if (span.nth.empty() && span.shift == 0)
            mask |= mask_of(span);
    return mask;
}

bool is_shadowed(const std::vector<Rule>& rules, std::size_t index) {
    const Rule& rule = rules[index];
    unsigned left = may_hold(rule);
    if (left == 0)
        return false;
    for (std::size_t later = index + 1; later < rules.size(); ++later) {
        const Rule& other = rules[later];
        const bool opens = other.separator == Separator::normal ||
                           (other.separator == Separator::additional && rule.state == State::closed);
        if (opens && other.state != State::closed && (other.wide.empty() || other.wide == rule.wide))
            left &= ~surely_holds(other);
    }
    return left == 0;
}

} // namespace

std::vector<Doubts> find_doubts(const std::vector<Rule>& rules) {
    std::vector<Doubts> doubts(rules.size());
    std::optional<std::size_t> named;  ///< the last rule with days
    std::optional<std::size_t> season; ///< the rule at the head of a chain of commas, when it has a part of the year
    for (std::size_t i = 0; i < rules.size(); ++i) {
        const Rule& rule = rules[i];
        doubts[i].shadowed = is_shadowed(rules, i);
        if (rule.separator == Separator::normal && !rule.names_days() && !rule.times.empty() &&
            rule.state != State::closed)
            doubts[i].days_of = named;
        if (rule.separator == Separator::additional && rule.wide.empty() && rule.state != State::closed)
            doubts[i].season_of = season;
        if (rule.names_days())
            named = i;
        if (rule.separator != Separator::additional || !rule.wide.empty())
            season = rule.wide.empty() ? std::nullopt : std::optional(i);
    }
    return doubts;
}

} // namespace routing::hours
