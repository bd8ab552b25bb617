#include "cli/number_text.hpp"

#include <array>
#include <charconv>
#include <cmath>

namespace cli {

namespace {

std::string minutes_text(std::int64_t minutes) {
    const std::string sign = minutes < 0 ? "-" : "";
    const std::int64_t size = minutes < 0 ? -minutes : minutes;
    if (size < 60)
        return sign + std::to_string(size) + " min";
    const std::string rest = std::to_string(size % 60);
    return sign + std::to_string(size / 60) + " h " + (rest.size() < 2 ? "0" + rest : rest);
}

std::int64_t floored_minutes(std::int64_t seconds) {
    return seconds >= 0 ? seconds / 60 : -((-seconds + 59) / 60);
}

} // namespace

std::string number_text(double number) {
    std::array<char, 64> buffer{};
    const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), number);
    return {buffer.data(), end.ptr};
}

std::string fixed_text(double number, int decimals) {
    std::array<char, 400> buffer{};
    const auto end =
        std::to_chars(buffer.data(), buffer.data() + buffer.size(), number, std::chars_format::fixed, decimals);
    std::string text(buffer.data(), end.ptr);
    if (text.starts_with('-') && text.find_first_not_of("-0.") == std::string::npos)
        text.erase(0, 1);
    return text;
}

std::optional<double> parse_number(std::string_view text) {
    if (text.starts_with('+'))
        text.remove_prefix(1);
    double number = 0.0;
    const auto end = std::from_chars(text.data(), text.data() + text.size(), number);
    if (text.empty() || end.ec != std::errc{} || end.ptr != text.data() + text.size() || !std::isfinite(number))
        return std::nullopt;
    return number;
}

std::string length_text(geo::Metres length) {
    if (length.value < 995.0)
        return fixed_text(10.0 * std::round(length.value / 10.0), 0) + " m";
    const double kilometres = length.value / 1000.0;
    return fixed_text(kilometres, kilometres < 99.95 ? 1 : 0) + " km";
}

std::string span_text(geo::Seconds span) {
    return minutes_text(floored_minutes(span.count() + 30));
}

std::string spare_text(geo::Seconds span) {
    return minutes_text(floored_minutes(span.count()));
}

std::string angle_text(geo::Degrees angle) {
    return fixed_text(angle.value, 1) + "°";
}

std::string degrees_text(geo::Coordinate place) {
    return fixed_text(place.latitude.value, 5) + "," + fixed_text(place.longitude.value, 5);
}

std::string count_text(std::size_t count, std::string_view word) {
    return std::to_string(count) + " " + std::string(word) + (count == 1 ? "" : "s");
}

} // namespace cli
