#include "geo/local_time.hpp"

#include "geo/nearest_name.hpp"

#include <date/tz.h>

#include <algorithm>
#include <array>
#include <cassert>
#include <cstdio>
#include <fstream>
#include <stdexcept>

namespace geo {

static_assert(USE_OS_TZDB, "zones must come from the system's database, not from a copy shipped with the library");

using namespace std::chrono_literals;
using std::chrono::days;
using std::chrono::floor;
using std::chrono::sys_days;

namespace {

date::local_seconds as_local(CivilDate day, Seconds time) {
    return date::local_seconds{sys_days{day}.time_since_epoch() + time};
}

std::string formatted(const char* pattern, auto... values) {
    std::array<char, 64> text{};
    const int length = std::snprintf(text.data(), text.size(), pattern, values...);
    assert(length > 0 && static_cast<std::size_t>(length) < text.size());
    return {text.data(), static_cast<std::size_t>(length)};
}

/// Reads fixed-width fields off the front of a text.
class FieldReader {
public:
    explicit FieldReader(std::string_view text) : rest_(text) {}

    bool at_end() const { return rest_.empty(); }

    bool take(char letter) {
        if (rest_.empty() || rest_.front() != letter)
            return false;
        rest_.remove_prefix(1);
        return true;
    }

    /// A number of exactly `digits` digits that is at most `largest`.
    std::optional<int> number(std::size_t digits, int largest) {
        if (rest_.size() < digits)
            return std::nullopt;
        int value = 0;
        for (const char digit : rest_.substr(0, digits)) {
            if (digit < '0' || digit > '9')
                return std::nullopt;
            value = value * 10 + (digit - '0');
        }
        if (value > largest)
            return std::nullopt;
        rest_.remove_prefix(digits);
        return value;
    }

    std::optional<CivilDate> date() {
        const auto year = number(4, 9999);
        if (!year || !take('-'))
            return std::nullopt;
        const auto month = number(2, 12);
        if (!month || !take('-'))
            return std::nullopt;
        const auto day = number(2, 31);
        if (!day)
            return std::nullopt;
        const CivilDate date{std::chrono::year{*year}, std::chrono::month{static_cast<unsigned>(*month)},
                             std::chrono::day{static_cast<unsigned>(*day)}};
        return date.ok() ? std::optional(date) : std::nullopt;
    }

    std::optional<ClockTime> clock() {
        const auto hours = number(2, 24);
        if (!hours || !take(':'))
            return std::nullopt;
        const auto minutes = number(2, *hours == 24 ? 0 : 59);
        if (!minutes)
            return std::nullopt;
        return std::chrono::hours{*hours} + std::chrono::minutes{*minutes};
    }

    /// "Z", "+01:00", or "-00:44:30" as zones had before they kept whole minutes.
    std::optional<Seconds> offset() {
        if (take('Z'))
            return 0s;
        const bool west = take('-');
        if (!west && !take('+'))
            return std::nullopt;
        const auto hours = number(2, 23);
        if (!hours || !take(':'))
            return std::nullopt;
        const auto minutes = number(2, 59);
        if (!minutes)
            return std::nullopt;
        const auto seconds = take(':') ? number(2, 59) : std::optional(0);
        if (!seconds)
            return std::nullopt;
        const Seconds size = std::chrono::hours{*hours} + std::chrono::minutes{*minutes} + Seconds{*seconds};
        return west ? -size : size;
    }

private:
    std::string_view rest_;
};

/// The link of the machine's own zone; not a name to write into a file that travels.
constexpr std::string_view machine_zone = "localtime";

} // namespace

const std::string& TimeZone::name() const {
    return zone_->name();
}

std::optional<TimeZone> find_time_zone(const std::string& name) {
    const auto& zones = date::get_tzdb().zones;
    const auto found =
        std::lower_bound(zones.begin(), zones.end(), name,
                         [](const date::time_zone& zone, const std::string& wanted) { return zone.name() < wanted; });
    if (found == zones.end() || found->name() != name || name == machine_zone)
        return std::nullopt;
    return TimeZone(&*found);
}

std::string nearest_zone_name(const std::string& name) {
    // People write "Berlin" or "New York": the city alone counts as one letter away.
    std::string wanted = name;
    std::replace(wanted.begin(), wanted.end(), ' ', '_');
    std::string nearest;
    auto fewest = static_cast<std::size_t>(-1);
    for (const date::time_zone& zone : date::get_tzdb().zones) {
        const std::string& known = zone.name();
        if (known == machine_zone)
            continue;
        const std::size_t slash = known.rfind('/');
        const std::string_view city =
            slash == std::string::npos ? std::string_view(known) : std::string_view(known).substr(slash + 1);
        const std::size_t steps = std::min(edit_distance(wanted, known), edit_distance(wanted, city) + 1);
        if (steps < fewest) {
            fewest = steps;
            nearest = known;
        }
    }
    return nearest;
}

std::string zone_database_version() {
    for (const std::string folder : {"/usr/share/zoneinfo/", "/usr/share/lib/zoneinfo/"}) {
        // The text form opens with "# version 2024b"; some systems put the bare version into a file of its own.
        std::string line;
        if (std::ifstream source(folder + "tzdata.zi"); std::getline(source, line) && line.starts_with("# version "))
            return line.substr(10);
        if (std::ifstream source(folder + "+VERSION"); std::getline(source, line) && !line.empty())
            return line;
    }
    return "unknown";
}

Instant instant_of(CivilDate day, Seconds time, const TimeZone& zone) {
    assert(day.ok());
    const date::local_seconds local = as_local(day, time);
    const date::local_info info = zone.zone_->get_info(local);
    if (info.result == date::local_info::nonexistent)
        return Instant{info.second.begin.time_since_epoch()};
    return Instant{local.time_since_epoch() - info.first.offset};
}

Interval civil_day(CivilDate day, const TimeZone& zone) {
    return {instant_of(day, 0s, zone), instant_of(day, 24h, zone)};
}

std::chrono::seconds offset_at(Instant when, const TimeZone& zone) {
    return zone.zone_->get_info(when).offset;
}

CivilDate civil_date(Instant when, const TimeZone& zone) {
    return CivilDate{floor<days>(when + offset_at(when, zone))};
}

std::string to_string(CivilDate day) {
    return formatted("%04d-%02u-%02u", static_cast<int>(day.year()), static_cast<unsigned>(day.month()),
                     static_cast<unsigned>(day.day()));
}

std::string clock_text(Instant when, const TimeZone& zone) {
    // The instant is rounded, not the clock's reading: half a minute before a clock change that is another hour.
    const Instant rounded = when + 30s;
    const auto local = rounded + offset_at(rounded, zone);
    const auto minutes = floor<std::chrono::minutes>(local - floor<days>(local)).count();
    return formatted("%02d:%02d", static_cast<int>(minutes / 60), static_cast<int>(minutes % 60));
}

std::string iso_text(Instant when, const TimeZone& zone) {
    const Seconds offset = offset_at(when, zone);
    const auto local = when + offset;
    const auto day = floor<days>(local);
    const auto time = static_cast<int>((local - day).count());
    const auto size = static_cast<int>(std::chrono::abs(offset).count());
    std::string text =
        to_string(CivilDate{day}) + formatted("T%02d:%02d:%02d%c%02d:%02d", time / 3600, time / 60 % 60, time % 60,
                                              offset < 0s ? '-' : '+', size / 3600, size / 60 % 60);
    if (size % 60 != 0)
        text += formatted(":%02d", size % 60);
    return text;
}

std::string weekday_name(CivilDate day) {
    static constexpr std::array names{"Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"};
    return names[std::chrono::weekday{sys_days{day}}.c_encoding()];
}

std::optional<CivilDate> parse_date(std::string_view text) {
    FieldReader reader(text);
    const auto day = reader.date();
    return reader.at_end() ? day : std::nullopt;
}

std::optional<ClockTime> parse_clock(std::string_view text) {
    FieldReader reader(text);
    const auto time = reader.clock();
    return reader.at_end() ? time : std::nullopt;
}

std::optional<Instant> parse_instant(std::string_view text, const TimeZone& zone) {
    FieldReader reader(text);
    const auto day = reader.date();
    if (!day || !reader.take('T'))
        return std::nullopt;
    const auto clock = reader.clock();
    if (!clock)
        return std::nullopt;
    const auto seconds = reader.take(':') ? reader.number(2, *clock == 24h ? 0 : 59) : std::optional(0);
    if (!seconds)
        return std::nullopt;
    const Seconds time = *clock + Seconds{*seconds};
    if (reader.at_end())
        return instant_of(*day, time, zone);
    const auto offset = reader.offset();
    if (!offset || !reader.at_end())
        return std::nullopt;
    return Instant{sys_days{*day}} + time - *offset;
}

} // namespace geo
