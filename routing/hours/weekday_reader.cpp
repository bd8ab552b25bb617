#include "routing/hours/reader.hpp"
#include "routing/hours/words.hpp"

namespace routing::hours {
namespace {

bool is_holiday(const Token& token) {
    return token.is_word("ph") || token.is_word("sh");
}

bool begins_day(const Token& token) {
    return weekday_of(token) || is_holiday(token);
}

} // namespace

void Reader::nth(WeekdaySpan& span) {
    if (!take_sign('['))
        return;
    do {
        const bool from_end = take_sign('-');
        const int first = take_number("count within the month", 1, 5);
        int last = first;
        if (!from_end && take_sign('-'))
            last = take_number("count within the month", first, 5);
        for (int count = first; count <= last; ++count)
            span.nth.push_back(from_end ? -count : count);
    } while (take_sign(','));
    if (!take_sign(']'))
        refuse(peek(), "]");
}

WeekdaySpan Reader::weekday_span() {
    const auto take_day = [this] {
        const Token& token = peek();
        const auto day = weekday_of(token);
        if (!day)
            refuse(token, "a weekday");
        if (!day->plain)
            remark(token.position, "\"" + token.text + "\" read as a weekday's short name");
        take();
        return day->number;
    };
    WeekdaySpan span;
    span.first = span.last = take_day();
    if (is_range(0) && !peek(1).is_number()) {
        take_range();
        span.last = take_day();
    }
    nth(span);
    day_shift(span.shift);
    return span;
}

void Reader::day_or_holiday(Rule& rule) {
    if (!is_holiday(peek())) {
        rule.weekdays.push_back(weekday_span());
        return;
    }
    if (peek().text != "PH" && peek().text != "SH")
        remark(peek().position, "holidays are written PH and SH");
    HolidayDay day{.school = take().is_word("sh")};
    day_shift(day.shift);
    rule.holidays.push_back(day);
}

void Reader::weekdays(Rule& rule) {
    if (!begins_day(peek()))
        return;
    day_or_holiday(rule);
    while (true) {
        if (is_and(0) && begins_day(peek(1))) {
            take_and();
            day_or_holiday(rule);
        } else if (begins_day(peek()) && rule.weekdays.empty()) {
            // "SH Mo-Fr": the specification joins the two with a blank.
            rule.weekday_in_holiday = true;
            day_or_holiday(rule);
            while (peek().is(',') && weekday_of(peek(1))) {
                take();
                day_or_holiday(rule);
            }
            return;
        } else if (weekday_of(peek()) && rule.holidays.empty()) {
            remark(peek().position, "a comma is missing before \"" + peek().text + "\"");
            day_or_holiday(rule);
        } else {
            return;
        }
    }
}

} // namespace routing::hours
