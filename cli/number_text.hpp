#pragma once
/// Numbers and amounts in words, the same under every locale.
///
///     length_text(31'240_m) == "31.2 km"; span_text(3900s) == "1 h 05"

#include "geo/coordinate.hpp"
#include "geo/units.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace cli {

/// Shortest text that reads back as the same number: "3.4", "-90".
std::string number_text(double number);
/// With exactly `decimals` digits after the point; never "-0".
std::string fixed_text(double number, int decimals);
/// Nothing unless the whole text is one finite number.
std::optional<double> parse_number(std::string_view text);

/// "350 m", "1.2 km", "31.2 km", "142 km".
std::string length_text(geo::Metres length);
/// Whole minutes, rounded to the nearest: "46 min", "1 h 05"; a span below zero gets a minus.
std::string span_text(geo::Seconds span);
/// The same, rounded down: for what is left over (slack).
std::string spare_text(geo::Seconds span);
/// One decimal and the degree sign: "5.2°".
std::string angle_text(geo::Degrees angle);
/// Latitude first, five decimals, about a metre: "46.56746,-27.37171", to key into a phone.
std::string degrees_text(geo::Coordinate place);
/// "1 scene", "3 scenes"; the plural is the word with an s.
std::string count_text(std::size_t count, std::string_view word);

} // namespace cli
