#pragma once
/// The date of Easter.
///
///     easter_sunday(2027y) // 28 March

#include <chrono>

namespace routing::hours {

/// Sunday of Western Easter, Gregorian calendar, years 1583 and later.
/// Source: Meeus, Astronomical Algorithms, 2nd edition (1998), chapter 8 (the rule of Butcher, 1876).
constexpr std::chrono::year_month_day easter_sunday(std::chrono::year in) {
    const int year = static_cast<int>(in);
    const int golden = year % 19;
    const int century = year / 100;
    const int of_century = year % 100;
    const int moon_correction = (century - (century + 8) / 25 + 1) / 3;
    const int epact = (19 * golden + century - century / 4 - moon_correction + 15) % 30;
    const int to_sunday = (32 + 2 * (century % 4) + 2 * (of_century / 4) - epact - of_century % 4) % 7;
    const int late_moon = (golden + 11 * epact + 22 * to_sunday) / 451;
    const int day = epact + to_sunday - 7 * late_moon + 114;
    return in / std::chrono::month{static_cast<unsigned>(day / 31)} /
           std::chrono::day{static_cast<unsigned>(day % 31 + 1)};
}

} // namespace routing::hours
