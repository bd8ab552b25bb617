#include "routing/shoot/site_hours.hpp"

#include <algorithm>

namespace routing::shoot {

hours::Site site_at(geo::Coordinate at, const Shoot& shoot) {
    hours::Site site{.at = at, .zone = shoot.zone, .holidays = {}};
    if (shoot.holidays) {
        site.holidays.known_from = shoot.days.front().date;
        site.holidays.known_until = geo::next_date(shoot.days.back().date); // days may run past midnight
        for (const geo::CivilDate day : *shoot.holidays)
            site.holidays.public_days.push_back({day, ""});
    }
    return site;
}

geo::Intervals open_hours(const Shoot& shoot, const Location& location, geo::Interval span) {
    if (location.open.empty())
        return {span};
    geo::Intervals open;
    for (const hours::Stretch& stretch : hours::read_hours(location.open).intervals(span, site_at(location.at, shoot)))
        if (stretch.state == hours::State::open)
            open.push_back(stretch.time);
    return geo::join(std::move(open));
}

std::string site_hours_note(const Shoot& shoot, const Location& location, geo::Interval there) {
    if (location.open.empty())
        return "";
    const std::vector<hours::Stretch> stretches =
        hours::read_hours(location.open).intervals(there, site_at(location.at, shoot));
    const bool holiday =
        std::any_of(stretches.begin(), stretches.end(), [](const hours::Stretch& s) { return s.unless_holiday; });
    return "open " + location.open + (holiday ? ", unless it is a public holiday" : "");
}

} // namespace routing::shoot
