#pragma once
/// Public and school holidays of one region, as far as they are known.
///
///     Holidays table;
///     table.region = "Demo Isles";
///     table.known_from = 2027y / January / 1; table.known_until = 2027y / December / 31;
///     table.public_days = {{2027y / April / 26, "Founders' Day"}};
///
/// Outside the years a table covers, and without a table, nobody knows which days are holidays.

#include "geo/local_time.hpp"

#include <optional>
#include <string>
#include <vector>

namespace routing::hours {

struct PublicHoliday {
    geo::CivilDate date;
    std::string name;
};

/// Both days included.
struct SchoolHoliday {
    geo::CivilDate first;
    geo::CivilDate last;
    std::string name;
};

struct Holidays {
    std::string region;
    std::optional<geo::CivilDate> known_from;  ///< nothing: no day is covered
    std::optional<geo::CivilDate> known_until; ///< included
    std::vector<PublicHoliday> public_days;
    bool school_known = false; ///< whether `school_days` covers the same years
    std::vector<SchoolHoliday> school_days;
};

/// Nothing when the table does not cover the day.
std::optional<bool> is_public_holiday(const Holidays& table, geo::CivilDate day);
std::optional<bool> is_school_holiday(const Holidays& table, geo::CivilDate day);

/// Whether the day is a public holiday in so many countries that it may well be one here: New Year, 6 January, Good
/// Friday to Easter Monday, 1 May, Ascension, Whit Sunday and Monday, Corpus Christi, 15 August, 1 November, 8, 25 and
/// 26 December. Our choice, common practice, no source.
bool is_often_public_holiday(geo::CivilDate day);

} // namespace routing::hours
