#pragma once
/// Civil time: what people read and write. Instants elsewhere are UTC; only this file knows zones.
///
///     const auto zone = geo::find_time_zone("Atlantic/Azores");
///     const geo::Instant call = geo::instant_of(day, 4h, *zone);
///
/// Rule at clock changes: a local time that does not exist (spring gap) means the first instant after the gap; one that
/// exists twice (autumn overlap) means the first of the two. Sums of time are made on instants, never on clock times.
///
/// Rules come from the system's IANA database, whatever the process's TZ and locale say. Its compiled files list clock
/// changes to the end of 2037; later instants get the offset that holds then. Every function that asks the database
/// throws std::runtime_error when the system has none.

#include "geo/interval.hpp"
#include "geo/units.hpp"

#include <chrono>
#include <optional>
#include <string>
#include <string_view>

namespace date {
class time_zone;
}

namespace geo {

/// A day of the proleptic Gregorian calendar.
using CivilDate = std::chrono::year_month_day;
/// Time since local midnight as a clock shows it, 0 to 24 h.
using ClockTime = std::chrono::minutes;

/// An IANA zone of the system's database; cheap to copy, lives as long as the process.
class TimeZone {
public:
    const std::string& name() const;

private:
    explicit TimeZone(const date::time_zone* zone) : zone_(zone) {}
    const date::time_zone* zone_;
    friend std::optional<TimeZone> find_time_zone(const std::string&);
    friend Instant instant_of(CivilDate, Seconds, const TimeZone&);
    friend std::chrono::seconds offset_at(Instant, const TimeZone&);
};

/// Nothing when the system's database has no zone of that name; spelling and case count. "localtime" is refused: it
/// means another zone on each machine.
std::optional<TimeZone> find_time_zone(const std::string& name);
/// The known zone whose name is nearest, for error messages.
std::string nearest_zone_name(const std::string& name);
/// Version of the system's zone database ("2024b"), printed in plans; "unknown" when the system does not tell.
std::string zone_database_version();

/// The instant a clock shows `time` on `day`; clock changes by the rule above. 24:00 is the next day's 00:00.
Instant instant_of(CivilDate day, Seconds time, const TimeZone& zone);
/// From the day's first instant to the next day's: 23, 24 or 25 h as a rule; of no length on a day the zone skipped.
Interval civil_day(CivilDate day, const TimeZone& zone);
/// Offset from UTC, east positive.
std::chrono::seconds offset_at(Instant when, const TimeZone& zone);
/// Civil date at that instant.
CivilDate civil_date(Instant when, const TimeZone& zone);

/// The day after.
inline CivilDate next_date(CivilDate day) {
    return std::chrono::sys_days{day} + std::chrono::days{1};
}

/// "2027-05-14"
std::string to_string(CivilDate day);
/// "04:58", rounded to the nearest minute.
std::string clock_text(Instant when, const TimeZone& zone);
/// "2027-05-14T04:58:31+01:00" (ISO 8601 with offset; UTC is "+00:00").
std::string iso_text(Instant when, const TimeZone& zone);
/// "Friday"
std::string weekday_name(CivilDate day);

/// Nothing unless the text is a real date "YYYY-MM-DD".
std::optional<CivilDate> parse_date(std::string_view text);
/// Nothing unless "HH:MM", 00:00 to 24:00.
std::optional<ClockTime> parse_clock(std::string_view text);
/// "2027-05-14T04:58", seconds and offset ("Z", "+01:00") optional; without offset the time is local to `zone`. Reads
/// back what iso_text writes.
std::optional<Instant> parse_instant(std::string_view text, const TimeZone& zone);

} // namespace geo
