#include "routing/hours/holidays.hpp"

#include "routing/hours/easter.hpp"

#include <algorithm>
#include <array>

namespace routing::hours {

using std::chrono::days;
using std::chrono::sys_days;

namespace {

bool covers(const Holidays& table, geo::CivilDate day) {
    return table.known_from && table.known_until && *table.known_from <= day && day <= *table.known_until;
}

} // namespace

std::optional<bool> is_public_holiday(const Holidays& table, geo::CivilDate day) {
    if (!covers(table, day))
        return std::nullopt;
    return std::any_of(table.public_days.begin(), table.public_days.end(),
                       [day](const PublicHoliday& holiday) { return holiday.date == day; });
}

std::optional<bool> is_school_holiday(const Holidays& table, geo::CivilDate day) {
    if (!table.school_known || !covers(table, day))
        return std::nullopt;
    return std::any_of(table.school_days.begin(), table.school_days.end(),
                       [day](const SchoolHoliday& holiday) { return holiday.first <= day && day <= holiday.last; });
}

bool is_often_public_holiday(geo::CivilDate day) {
    using namespace std::chrono;
    static constexpr std::array fixed{January / 1,  January / 6,  May / 1,       August / 15,
                                      November / 1, December / 8, December / 25, December / 26};
    // Good Friday, Easter Sunday and Monday, Ascension, Whit Sunday and Monday, Corpus Christi.
    static constexpr std::array after_easter{-2, 0, 1, 39, 49, 50, 60};
    if (std::find(fixed.begin(), fixed.end(), day.month() / day.day()) != fixed.end())
        return true;
    const auto since_easter = (sys_days{day} - sys_days{easter_sunday(day.year())}).count();
    return std::find(after_easter.begin(), after_easter.end(), since_easter) != after_easter.end();
}

} // namespace routing::hours
