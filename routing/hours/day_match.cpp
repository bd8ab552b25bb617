#include "routing/hours/day_match.hpp"

#include "routing/hours/easter.hpp"

#include <algorithm>

namespace routing::hours {

using std::chrono::days;
using std::chrono::sys_days;

namespace {

/// Monday 0 to Sunday 6.
unsigned weekday(sys_days day) {
    return std::chrono::weekday{day}.iso_encoding() - 1;
}

int year_of(sys_days day) {
    return static_cast<int>(std::chrono::year_month_day{day}.year());
}

/// ISO 8601: the week of a day is that of its Thursday, counted from the year that Thursday lies in.
int iso_week(sys_days day) {
    const sys_days thursday = day - days{weekday(day)} + days{3};
    const sys_days new_year = std::chrono::year{year_of(thursday)} / std::chrono::January / 1;
    return static_cast<int>((thursday - new_year).count() / 7 + 1);
}

enum class End { first, last };

/// 29 February in a year without: a span begins on 1 March or ends on 28 February.
sys_days resolve(const DatePoint& point, int year, End end) {
    using namespace std::chrono;
    const auto in = std::chrono::year{year};
    sys_days day{easter_sunday(in)};
    if (!point.easter) {
        const year_month_day date = in / month{point.month} / std::chrono::day{point.day};
        if (date.ok())
            day = sys_days{date};
        else
            day = sys_days{in / month{point.month} / last} + days{end == End::first ? 1 : 0};
    }
    if (point.weekday) {
        const unsigned now = weekday(day);
        day += point.weekday_after ? days{(*point.weekday + 7 - now) % 7} : -days{(now + 7 - *point.weekday) % 7};
    }
    return day + days{point.shift};
}

bool exists(const DatePoint& point, int year) {
    return point.easter ||
           (std::chrono::year{year} / std::chrono::month{point.month} / std::chrono::day{point.day}).ok();
}

bool holds(const DateSpan& span, sys_days day) {
    if (span.endless)
        return day >= resolve(span.from, *span.from.year, End::first);
    const bool single = span.from == span.until;
    const int here = year_of(day);
    // An offset or the turn of the year may have carried the date over from the year before or after.
    const int first = span.from.year.value_or(here - 1);
    const int last = span.from.year.value_or(here + 1);
    for (int year = first; year <= last; ++year) {
        if (single && !exists(span.from, year))
            continue;
        const sys_days from = resolve(span.from, year, End::first);
        if (single) {
            if (day == from)
                return true;
            continue;
        }
        sys_days until = resolve(span.until, span.until.year.value_or(year), End::last);
        if (until < from && !span.until.year)
            until = resolve(span.until, year + 1, End::last);
        if (from <= day && day <= until)
            return true;
    }
    return false;
}

bool holds(const MonthSpan& span, sys_days day) {
    const std::chrono::year_month_day date{day};
    const auto month = static_cast<unsigned>(date.month());
    const bool wraps = span.last < span.first;
    if (!(wraps ? month >= span.first || month <= span.last : month >= span.first && month <= span.last))
        return false;
    // "2025 Nov-Feb" begins in 2025 and ends in 2026.
    return !span.year || year_of(day) == *span.year + (wraps && month <= span.last ? 1 : 0);
}

bool holds(const WeekSpan& span, sys_days day) {
    const int week = iso_week(day);
    if (span.last < span.first)
        return week >= span.first || week <= span.last;
    return week >= span.first && week <= span.last && (week - span.first) % span.step == 0;
}

bool holds(const YearSpan& span, sys_days day) {
    const int year = year_of(day);
    return year >= span.first && year <= span.last && (year - span.first) % span.step == 0;
}

bool holds(const WeekdaySpan& span, sys_days shifted) {
    const sys_days day = shifted - days{span.shift};
    const unsigned now = weekday(day);
    if (!(span.first <= span.last ? now >= span.first && now <= span.last : now >= span.first || now <= span.last))
        return false;
    if (span.nth.empty())
        return true;
    const std::chrono::year_month_day date{day};
    const auto of_month = static_cast<int>(static_cast<unsigned>(date.day()));
    const auto length = static_cast<int>(static_cast<unsigned>((date.year() / date.month() / std::chrono::last).day()));
    const int from_begin = (of_month - 1) / 7 + 1;
    const int from_end = -((length - of_month) / 7 + 1);
    return std::any_of(span.nth.begin(), span.nth.end(),
                       [=](int count) { return count == from_begin || count == from_end; });
}

bool holds(const HolidayDay& holiday, sys_days shifted, const DayKnowledge& known) {
    const geo::CivilDate day{shifted - days{holiday.shift}};
    if (holiday.school)
        return is_school_holiday(known.table, day).value_or(known.assume_school);
    if (const auto told = is_public_holiday(known.table, day))
        return *told;
    return known.assume_public == DayKnowledge::Public::all ||
           (known.assume_public == DayKnowledge::Public::likely && is_often_public_holiday(day));
}

template <class List>
bool none_or_any(const List& list, sys_days day) {
    return list.empty() || std::any_of(list.begin(), list.end(), [day](const auto& span) { return holds(span, day); });
}

} // namespace

bool matches(const WideSelectors& wide, geo::CivilDate day) {
    const auto date_holds = [&](const auto& date) {
        return std::visit([&](const auto& span) { return holds(span, sys_days{day}); }, date);
    };
    return none_or_any(wide.years, sys_days{day}) && none_or_any(wide.weeks, sys_days{day}) &&
           (wide.dates.empty() || std::any_of(wide.dates.begin(), wide.dates.end(), date_holds));
}

bool matches_holiday(const Rule& rule, geo::CivilDate day, const DayKnowledge& known) {
    return std::any_of(rule.holidays.begin(), rule.holidays.end(),
                       [&](const HolidayDay& holiday) { return holds(holiday, sys_days{day}, known); });
}

bool matches_day(const Rule& rule, geo::CivilDate day, const DayKnowledge& known) {
    if (rule.holidays.empty())
        return none_or_any(rule.weekdays, sys_days{day});
    const bool weekday_holds = !rule.weekdays.empty() && none_or_any(rule.weekdays, sys_days{day});
    const bool holiday_holds = matches_holiday(rule, day, known);
    return rule.weekday_in_holiday ? weekday_holds && holiday_holds : weekday_holds || holiday_holds;
}

} // namespace routing::hours
