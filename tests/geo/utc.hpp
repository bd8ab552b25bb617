#pragma once
/// Instants in tests, read from their UTC text by another road than the code under test.
///
///     support::utc("2003-10-17T19:30:30Z")

#include "geo/sky/precise_instant.hpp"

#include <cmath>
#include <cstdio>
#include <stdexcept>
#include <string>

namespace support {

inline geo::sky::PreciseInstant precise_utc(const std::string& text) {
    int year = 0;
    unsigned month = 0;
    unsigned day = 0;
    int hours = 0;
    int minutes = 0;
    double seconds = 0.0;
    if (std::sscanf(text.c_str(), "%d-%u-%uT%d:%d:%lfZ", &year, &month, &day, &hours, &minutes, &seconds) < 5)
        throw std::invalid_argument("not a UTC time: " + text);
    const std::chrono::sys_days date{
        std::chrono::year_month_day{std::chrono::year{year}, std::chrono::month{month}, std::chrono::day{day}}};
    return geo::sky::PreciseInstant{date} + geo::sky::PreciseSeconds{hours * 3600.0 + minutes * 60.0 + seconds};
}

inline geo::Instant utc(const std::string& text) {
    return geo::sky::rounded(precise_utc(text));
}

} // namespace support
