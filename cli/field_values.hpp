#pragma once
/// The values our files are made of: positions, dates, clock times, instants, spans. Each getter gives nothing after
/// adding a fault.

#include "cli/json_fields.hpp"
#include "geo/coordinate.hpp"
#include "geo/local_time.hpp"

#include <chrono>
#include <optional>
#include <string>
#include <utility>

namespace cli {

/// `{"lat": ..., "lon": ...}` in degrees. Latitude and longitude in each other's place are named when it shows.
std::optional<geo::Coordinate> read_place(const Field& field);

/// "2027-05-14"
std::optional<geo::CivilDate> read_date(const Field& field);
/// 1970 to 2100: where sun and time zones are known well.
bool is_plannable(geo::CivilDate date);
/// "04:58"
std::optional<geo::ClockTime> read_clock(const Field& field);
/// `["11:30", "14:00"]`, two different times.
std::optional<std::pair<geo::ClockTime, geo::ClockTime>> read_clock_pair(const Field& field);
/// "2027-05-14T04:58:00+01:00"; without an offset, local to `zone`.
std::optional<geo::Instant> read_instant(const Field& field, const geo::TimeZone& zone);
/// Whole minutes, `low` to `high`.
std::optional<std::chrono::minutes> read_minutes(const Field& field, int low, int high);

/// "HH:MM", as clock times are written in files.
std::string clock_time_text(geo::ClockTime time);
/// "-35.21, -8.47": latitude first, as people write it.
std::string place_text(geo::Coordinate place);

} // namespace cli
