#include "tests/routing/hours/told.hpp"

namespace hours_test {

using namespace geo::literals;
using namespace std::chrono;
using routing::hours::Site;
using routing::hours::State;

Site valley() {
    return {.at = {47.14_deg, 9.52_deg}, .zone = geo::find_time_zone("Europe/Vaduz").value(), .holidays = {}};
}

Site valley_with_holidays() {
    Site site = valley();
    site.holidays.region = "a valley";
    site.holidays.known_from = 2027y / January / 1;
    site.holidays.known_until = 2027y / December / 31;
    site.holidays.public_days = {{2027y / January / 6, "Epiphany"},
                                 {2027y / March / 26, "Good Friday"},
                                 {2027y / May / 1, "May Day"},
                                 {2027y / August / 15, "Midsummer"},
                                 {2027y / December / 25, "Christmas"}};
    site.holidays.school_known = true;
    site.holidays.school_days = {{2027y / July / 12, 2027y / August / 20, "summer"}};
    return site;
}

namespace {

std::string weekday(geo::CivilDate day) {
    return geo::weekday_name(day).substr(0, 2);
}

std::string end_text(geo::Instant from, geo::Instant until, const geo::TimeZone& zone) {
    const geo::CivilDate first = geo::civil_date(from, zone);
    const geo::CivilDate last = geo::civil_date(until, zone);
    if (first == last)
        return geo::clock_text(until, zone);
    if (until == geo::civil_day(last, zone).from) {
        const geo::CivilDate before{sys_days{last} - days{1}};
        return (before == first ? "" : weekday(before) + " ") + "24:00";
    }
    return weekday(last) + " " + geo::clock_text(until, zone);
}

} // namespace

std::string told(std::string_view text, const char* first_day, int count, const Site& site) {
    const geo::CivilDate first = geo::parse_date(first_day).value();
    const geo::CivilDate last{sys_days{first} + days{count - 1}};
    const geo::Interval span{geo::civil_day(first, site.zone).from, geo::civil_day(last, site.zone).until};
    std::string line;
    for (const auto& stretch : routing::hours::read_hours(text).intervals(span, site)) {
        line += line.empty() ? "" : ", ";
        line += weekday(geo::civil_date(stretch.time.from, site.zone)) + " ";
        line += geo::clock_text(stretch.time.from, site.zone) + "-";
        line += end_text(stretch.time.from, stretch.time.until, site.zone);
        line += stretch.state == State::unknown ? "?" : "";
        line += stretch.unless_holiday ? "!" : "";
    }
    return line.empty() ? "closed" : line;
}

} // namespace hours_test
