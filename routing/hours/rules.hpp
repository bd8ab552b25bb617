#pragma once
/// What an opening_hours text says, as plain values: rules, each a set of days, times on these days and a state.
///
///     // "Jun-Aug: Sa[1] 10:00-sunset open" is
///     Rule{.dates = {MonthSpan{June, August}}, .weekdays = {{Saturday, nth 1}}, .times = {...}, .state = State::open}
///
/// An empty list of selectors means no limit. Years, dates and weeks must all hold (OSM wiki,
/// Key:opening_hours/specification, wide_range_selectors); within one list any may hold.

#include <chrono>
#include <compare>
#include <cstddef>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace routing::hours {

enum class State { closed, open, unknown };

/// "2025", "2025-2027", "2024-2030/2", "2025+".
struct YearSpan {
    int first = 0;
    int last = 0;
    int step = 1;
    friend bool operator==(const YearSpan&, const YearSpan&) = default;
};

/// "Jun", "Nov-Feb", "2025 Jun"; wraps over New Year.
struct MonthSpan {
    std::optional<int> year;
    unsigned first = 1;
    unsigned last = 1;
    friend bool operator==(const MonthSpan&, const MonthSpan&) = default;
};

/// "Dec 24", "2025 Dec 24", "easter -2 days", "Oct 01 +Su" (the first Sunday after).
struct DatePoint {
    std::optional<int> year;
    bool easter = false; ///< Sunday of Western Easter; month and day are then unused
    unsigned month = 1;
    unsigned day = 1;
    std::optional<unsigned> weekday{}; ///< 0 Monday to 6 Sunday: the next such day in the direction of `weekday_after`
    bool weekday_after = true;
    int shift = 0; ///< days, after the weekday is found
    friend bool operator==(const DatePoint&, const DatePoint&) = default;
};

/// From one date to another, both included; wraps over New Year. A single date has both ends alike.
struct DateSpan {
    DatePoint from;
    DatePoint until;
    bool endless = false; ///< "2025 Dec 24+": no end; `until` is unused
    friend bool operator==(const DateSpan&, const DateSpan&) = default;
};

/// ISO 8601 weeks: "week 10", "week 1-53/2".
struct WeekSpan {
    int first = 1;
    int last = 1;
    int step = 1;
    friend bool operator==(const WeekSpan&, const WeekSpan&) = default;
};

/// "Mo-Fr", "Su-Tu", "Th[1]", "Sa[-1]", "Su[1] +1 day".
struct WeekdaySpan {
    unsigned first = 0;   ///< 0 Monday to 6 Sunday
    unsigned last = 0;    ///< before `first`: wraps over the week's end
    std::vector<int> nth; ///< of the month, 1 to 5 or -1 to -5 from its end; empty: every one
    int shift = 0;        ///< days
    friend bool operator==(const WeekdaySpan&, const WeekdaySpan&) = default;
};

/// "PH", "SH", "PH -1 day".
struct HolidayDay {
    bool school = false;
    int shift = 0; ///< days
    friend bool operator==(const HolidayDay&, const HolidayDay&) = default;
};

enum class DayEvent { clock, dawn, sunrise, sunset, dusk };

/// A clock time or one of the sun's, with an offset to it.
struct TimePoint {
    DayEvent event = DayEvent::clock;
    std::chrono::minutes minutes{0}; ///< since midnight, up to 48 h; for an event the offset
    friend bool operator==(const TimePoint&, const TimePoint&) = default;
};

/// "08:00-12:00", "22:00-02:00" (past midnight), "17:00+", "17:00-23:00+".
struct TimeSpan {
    TimePoint from;
    std::optional<TimePoint> until; ///< nothing: "17:00+"
    bool open_end = false;          ///< "+": it may go on
    friend bool operator==(const TimeSpan&, const TimeSpan&) = default;
};

/// How a rule stands to those before it.
enum class Separator {
    normal,     ///< ";": takes the place of what earlier rules say about its days
    additional, ///< ", ": adds to it
    fallback    ///< "||": holds where nothing else is open or unknown
};

/// The part of a rule that picks stretches of the year.
struct WideSelectors {
    std::vector<YearSpan> years;
    std::vector<std::variant<MonthSpan, DateSpan>> dates;
    std::vector<WeekSpan> weeks;
    bool empty() const { return years.empty() && dates.empty() && weeks.empty(); }
    friend bool operator==(const WideSelectors&, const WideSelectors&) = default;
};

struct Rule {
    Separator separator = Separator::normal;
    WideSelectors wide;
    std::vector<WeekdaySpan> weekdays;
    std::vector<HolidayDay> holidays;
    bool weekday_in_holiday = false; ///< "SH Mo-Fr": both must hold; else "PH,Mo-Fr": either
    std::vector<TimeSpan> times;     ///< empty: the whole day
    State state = State::open;
    std::string comment;
    std::size_t position = 0; ///< byte of the text at which it begins

    bool names_days() const { return !wide.empty() || !weekdays.empty() || !holidays.empty(); }
    friend bool operator==(const Rule&, const Rule&) = default;
};

} // namespace routing::hours
