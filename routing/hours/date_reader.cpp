#include "routing/hours/reader.hpp"
#include "routing/hours/words.hpp"

#include <chrono>

namespace routing::hours {
namespace {

constexpr int no_end = 9999;

} // namespace

bool Reader::is_year(std::size_t ahead) const {
    const Token& token = peek(ahead);
    return token.is_number() && token.text.size() == 4 && token.number >= 1900 && token.number < 2200;
}

/// A number that can't be the hour of a time.
bool Reader::is_day_number(std::size_t ahead) const {
    const Token& token = peek(ahead);
    if (!token.is_number() || token.text.size() > 2 || token.number < 1 || token.number > 31)
        return false;
    const bool clock = (peek(ahead + 1).is(':') || peek(ahead + 1).is('.')) && !peek(ahead + 1).spaced &&
                       peek(ahead + 2).is_number() && !peek(ahead + 2).spaced;
    const Token& next = peek(ahead + 1);
    return !clock && !next.is_word("am") && !next.is_word("pm") && !next.is_word("h");
}

bool Reader::begins_date_after_year(std::size_t ahead) const {
    return month_of(peek(ahead)) || peek(ahead).is_word("easter") ||
           (is_day_number(ahead) && month_of(peek(ahead + 1)));
}

bool Reader::begins_dates(std::size_t ahead) const {
    return is_year(ahead) || begins_date_after_year(ahead) || peek(ahead).is_word("week");
}

void Reader::wide(WideSelectors& wide) {
    if (is_year(0) && !begins_date_after_year(1))
        years(wide);
    if (begins_date_after_year(0) || (is_year(0) && begins_date_after_year(1)))
        dates(wide);
    if (peek().is_word("week"))
        weeks(wide);
}

void Reader::years(WideSelectors& wide) {
    while (true) {
        YearSpan span;
        span.first = take_number("year", 1900, 2199);
        span.last = span.first;
        if (take_sign('+'))
            span.last = no_end;
        else if (take_range())
            span.last = take_number("year", 1900, 2199);
        if (span.last < span.first)
            throw Refusal{peek().position, "a span of years ends before it begins"};
        if (take_sign('/'))
            span.step = take_number("step", 1, 100);
        wide.years.push_back(span);
        if (!(peek().is(',') && is_year(1)))
            return;
        take();
    }
}

std::optional<int> Reader::take_year() {
    return is_year(0) ? std::optional(take().number) : std::nullopt;
}

unsigned Reader::take_month() {
    const Token& token = peek();
    const auto month = month_of(token);
    if (!month)
        refuse(token, "a month");
    if (!month->plain)
        remark(token.position, "\"" + token.text + "\" read as a month's short name");
    take();
    return month->number;
}

/// "+1 day", "-2 days".
bool Reader::day_shift(int& shift) {
    if (!((peek().is('+') || peek().is('-')) && peek(1).is_number() &&
          (peek(2).is_word("day") || peek(2).is_word("days"))))
        return false;
    const bool back = take().is('-');
    const int days = take_number("number of days", 0, 366);
    take();
    shift = back ? -days : days;
    return true;
}

/// "+Su", "-Mo" and days after them.
void Reader::shift(DatePoint& point) {
    if ((peek().is('+') || peek().is('-')) && weekday_of(peek(1))) {
        point.weekday_after = take().is('+');
        point.weekday = weekday_of(take())->number;
    }
    day_shift(point.shift);
}

DatePoint Reader::date_after_month(std::optional<int> year, unsigned month) {
    DatePoint point{.year = year, .month = month};
    const Token& number = peek();
    point.day = static_cast<unsigned>(take_number("day of the month", 1, 31));
    using namespace std::chrono;
    // 29 February is a date, of leap years.
    const auto in = std::chrono::year{year.value_or(2024)};
    if (!(in / std::chrono::month{month} / day{point.day}).ok() && !(month == 2 && point.day == 29))
        throw Refusal{number.position, "the month has no day " + number.text};
    shift(point);
    return point;
}

DatePoint Reader::date_point(std::optional<int> year) {
    if (peek().is_word("easter")) {
        DatePoint point{.year = year, .easter = true};
        take();
        shift(point);
        return point;
    }
    if (is_day_number(0) && month_of(peek(1))) {
        DatePoint point{.year = year};
        const Token day = take();
        remark(day.position, "day before month");
        point.month = take_month();
        point.day = static_cast<unsigned>(day.number);
        if (!(std::chrono::year{2024} / std::chrono::month{point.month} / std::chrono::day{point.day}).ok())
            throw Refusal{day.position, "the month has no day " + day.text};
        shift(point);
        return point;
    }
    return date_after_month(year, take_month());
}

std::variant<MonthSpan, DateSpan> Reader::date_span() {
    const auto year = take_year();
    const Token& begin = peek();
    DateSpan span;
    if (month_of(peek()) && !is_day_number(1)) {
        MonthSpan months{.year = year};
        months.first = months.last = take_month();
        if (is_range(0) && (month_of(peek(1)) || is_year(1))) {
            take_range();
            if (is_year(0))
                throw Refusal{peek().position, "a span of months with two years needs days: Dec 01-Jan 31"};
            months.last = take_month();
            if (is_day_number(0))
                throw Refusal{peek().position, "a span begins with a month and ends with a day"};
        }
        return months;
    }
    span.from = date_point(year);
    span.until = span.from;
    if (peek().is('+')) {
        if (!year)
            throw Refusal{peek().position, "a date without end needs a year"};
        take();
        span.endless = true;
        return span;
    }
    const bool to_date = is_range(0) && (begins_date_after_year(1) || (is_year(1) && begins_date_after_year(2)));
    const bool to_day = is_range(0) && is_day_number(1) && !span.from.easter;
    if (to_date || to_day)
        take_range();
    if (to_date) {
        const auto until_year = take_year();
        if (until_year && !year)
            throw Refusal{begin.position, "the first date of the span needs its year too"};
        if (month_of(peek()) && !is_day_number(1))
            throw Refusal{peek().position, "a span begins with a day and ends with a month"};
        span.until = date_point(until_year);
    } else if (to_day) {
        span.until = date_after_month(year, span.from.month);
        if (span.until.day < span.from.day)
            throw Refusal{begin.position, "a span of days ends before it begins"};
    }
    return span;
}

void Reader::dates(WideSelectors& wide) {
    wide.dates.push_back(date_span());
    while (is_and(0)) {
        if (begins_date_after_year(1) || (is_year(1) && begins_date_after_year(2))) {
            take_and();
            wide.dates.push_back(date_span());
            continue;
        }
        // "Dec 24,25,31": more days of the same month.
        const auto* last = std::get_if<DateSpan>(&wide.dates.back());
        if (last != nullptr && !last->from.easter && is_day_number(1)) {
            const unsigned month = last->until.month;
            const auto year = last->until.year;
            take_and();
            DateSpan span;
            span.from = date_after_month(year, month);
            span.until = span.from;
            if (is_range(0) && is_day_number(1)) {
                take_range();
                span.until = date_after_month(year, month);
            }
            if (span.until.day < span.from.day)
                throw Refusal{peek().position, "a span of days ends before it begins"};
            wide.dates.emplace_back(span);
            continue;
        }
        if (weekday_of(peek(1)))
            throw Refusal{peek().position, "a comma between dates and weekdays can mean two things"};
        return;
    }
}

void Reader::weeks(WideSelectors& wide) {
    if (take().text != "week")
        remark(peek().position, "\"week\" is written in small letters");
    while (true) {
        WeekSpan span;
        span.first = span.last = take_number("week", 1, 53);
        if (take_range()) {
            const std::size_t position = peek().position;
            span.last = take_number("week", 1, 53);
            if (span.last < span.first)
                remark(position, "weeks over New Year");
        }
        if (peek().is('/') && span.last < span.first)
            throw Refusal{peek().position, "a step in weeks over New Year"};
        if (take_sign('/'))
            span.step = take_number("step", 1, 53);
        wide.weeks.push_back(span);
        if (!(peek().is(',') && is_day_number(1)))
            return;
        take();
    }
}

} // namespace routing::hours
