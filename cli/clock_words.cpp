#include "cli/clock_words.hpp"

namespace cli {

std::string time_text(geo::Instant when, geo::CivilDate day, const geo::TimeZone& zone, RoundTo round) {
    using std::chrono::minutes;
    // Offsets are whole minutes in all zones of this century, so rounding may come before the zone.
    const geo::Instant whole = round == RoundTo::earlier ? std::chrono::floor<minutes>(when)
                               : round == RoundTo::later ? std::chrono::ceil<minutes>(when)
                                                         : std::chrono::floor<minutes>(when + geo::Seconds(30));
    const auto days = std::chrono::sys_days(geo::civil_date(whole, zone)) - std::chrono::sys_days(day);
    std::string text = geo::clock_text(whole, zone);
    if (days.count() != 0)
        text += (days.count() > 0 ? " (+" : " (") + std::to_string(days.count()) + ")";
    return text;
}

std::string window_text(geo::Interval window, geo::CivilDate day, const geo::TimeZone& zone) {
    return time_text(window.from, day, zone, RoundTo::later) + "–" +
           time_text(window.until, day, zone, RoundTo::earlier);
}

std::string day_text(geo::CivilDate day) {
    return geo::weekday_name(day) + " " + geo::to_string(day);
}

} // namespace cli
