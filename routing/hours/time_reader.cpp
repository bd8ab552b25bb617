#include "routing/hours/reader.hpp"
#include "routing/hours/words.hpp"

namespace routing::hours {
namespace {

std::optional<DayEvent> event_of(const Token& token) {
    if (token.is_word("sunrise"))
        return DayEvent::sunrise;
    if (token.is_word("sunset"))
        return DayEvent::sunset;
    if (token.is_word("dawn"))
        return DayEvent::dawn;
    if (token.is_word("dusk"))
        return DayEvent::dusk;
    return std::nullopt;
}

bool is_half(const Token& token) {
    return token.is_word("am") || token.is_word("pm");
}

} // namespace

bool Reader::begins_time(std::size_t ahead) const {
    const Token& token = peek(ahead);
    if (event_of(token) || (token.is('(') && event_of(peek(ahead + 1))))
        return true;
    return token.is_number() && token.text.size() <= 2 && !month_of(peek(ahead + 1));
}

TimePoint Reader::event_point() {
    const bool bracket = take_sign('(');
    const Token& word = peek();
    const auto event = event_of(word);
    if (!event)
        refuse(word, "a time of day or of the sun");
    if (word.text != word.lower)
        remark(word.position, "\"" + word.text + "\" is written in small letters");
    take();
    TimePoint point{.event = *event};
    if (!bracket)
        return point;
    if (!peek().is('+') && !peek().is('-'))
        refuse(peek(), "+ or -");
    const bool before = take().is('-');
    const int hours = take_number("hour", 0, 24);
    if (!take_sign(':'))
        refuse(peek(), ":");
    const int minutes = take_number("minute", 0, 59);
    if (!take_sign(')'))
        refuse(peek(), ")");
    point.minutes = std::chrono::hours{hours} + std::chrono::minutes{minutes};
    if (before)
        point.minutes = -point.minutes;
    return point;
}

void Reader::half_of_day(Clock& clock) {
    if (!is_half(peek()))
        return;
    const Token& half = take();
    const int hour = static_cast<int>(clock.point.minutes.count() / 60);
    if (hour < 1 || hour > 12)
        throw Refusal{half.position, "\"" + half.text + "\" after an hour that is not 1 to 12"};
    if (half.is_word("am") && hour == 12)
        clock.point.minutes -= std::chrono::hours{12};
    if (half.is_word("pm") && hour != 12)
        clock.point.minutes += std::chrono::hours{12};
    clock.half_day = true;
    clock.bare_hour = false;
    remark(half.position, "am and pm read as hours of the day");
}

Reader::Clock Reader::time_point(int latest_hour) {
    if (!peek().is_number())
        return {.point = event_point()};
    Clock clock;
    const Token& first = peek();
    if (first.text.size() > 2)
        refuse(first, "a time of day");
    const int hour = take_number("hour", 0, latest_hour);
    int minute = 0;
    const bool dot = peek().is('.') && !peek().spaced && peek(1).is_number() && !peek(1).spaced;
    const bool hour_sign = peek().is_word("h") || peek().is_word("uhr");
    if (peek().is(':') || dot) {
        if (dot)
            remark(peek().position, "a dot between hour and minute read as :");
        else if (!peek().plain)
            remark(peek().position, "another sign read as :");
        take();
        const Token& minutes = peek();
        minute = take_number("minute", 0, 59);
        if (minutes.text.size() != 2)
            refuse(minutes, "a minute of two digits");
        if (first.text.size() == 1)
            remark(first.position, "an hour of one digit");
    } else if (hour_sign) {
        remark(peek().position, "\"" + peek().text + "\" after an hour");
        take();
        if (peek().is_number() && !peek().spaced && peek().text.size() == 2)
            minute = take_number("minute", 0, 59);
    } else {
        clock.bare_hour = true;
    }
    clock.point.minutes = std::chrono::hours{hour} + std::chrono::minutes{minute};
    if (clock.point.minutes > std::chrono::hours{latest_hour})
        throw Refusal{first.position, "a time later than " + std::to_string(latest_hour) + ":00"};
    half_of_day(clock);
    if (peek().is_word("h") || peek().is_word("uhr")) {
        remark(peek().position, "\"" + peek().text + "\" after a time");
        take();
    }
    if (clock.bare_hour)
        remark(first.position, "an hour without minutes");
    return clock;
}

TimeSpan Reader::time_span() {
    const Token& begin = peek();
    TimeSpan span;
    const Clock from = time_point(24);
    span.from = from.point;
    if (take_sign('+')) {
        if (from.bare_hour)
            throw Refusal{begin.position, "an hour without minutes and without an end"};
        span.open_end = true;
        return span;
    }
    if (!take_range()) {
        if (from.bare_hour)
            refuse(peek(), "the minutes or the end of a span");
        throw Refusal{begin.position, "a moment is no span: - and a closing time, or +, should follow"};
    }
    const Clock until = time_point(48);
    if (from.half_day != until.half_day && from.point.event == DayEvent::clock &&
        until.point.event == DayEvent::clock && from.point.minutes <= std::chrono::hours{12} &&
        until.point.minutes <= std::chrono::hours{24})
        throw Refusal{begin.position, "am or pm stands at one end only"};
    span.until = until.point;
    span.open_end = take_sign('+');
    if (peek().is('/') && peek(1).is_number() && !(is_range(2) || (peek(2).is(':') && is_range(4))))
        throw Refusal{peek().position, "moments at a distance are no opening hours"};
    if (span.from.event == DayEvent::clock && span.until->event == DayEvent::clock) {
        if (span.from.minutes == std::chrono::hours{24})
            remark(begin.position, "a span that begins at 24:00");
        if (span.from.minutes == span.until->minutes)
            remark(begin.position, "a span that ends when it begins");
    }
    return span;
}

void Reader::times(Rule& rule) {
    if (!begins_time(0))
        return;
    rule.times.push_back(time_span());
    while (begins_time(1) && !is_year(1)) {
        if (peek().is('/')) {
            remark(peek().position, "/ read as a comma");
            take();
        } else if (is_and(0)) {
            take_and();
        } else {
            return;
        }
        rule.times.push_back(time_span());
    }
}

} // namespace routing::hours
