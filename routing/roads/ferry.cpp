#include "routing/roads/ferry.hpp"

#include "routing/roads/tag_text.hpp"

#include <cmath>

namespace routing::roads {
namespace {

constexpr geo::Seconds to_board{15 * 60};
constexpr double assumed_metres_per_second = 20.0 / 3.6;
constexpr double slowest = 3.0 / 3.6;
constexpr double fastest = 60.0 / 3.6;
constexpr double longest_hours = 240.0; // guards the arithmetic, not a claim about ferries

std::optional<geo::Seconds> in_seconds(double hours, double minutes, double seconds) {
    const double total = hours * 3600.0 + minutes * 60.0 + seconds;
    if (!(total > 0.0) || total > longest_hours * 3600.0)
        return std::nullopt;
    return geo::Seconds{std::llround(total)};
}

std::optional<geo::Seconds> read_iso(std::string_view text) {
    double hours = 0.0, minutes = 0.0, seconds = 0.0;
    if (text.starts_with("PT"))
        text.remove_prefix(2);
    else
        return std::nullopt;
    while (!text.empty()) {
        const auto number = leading_number(text);
        if (!number || number->rest.empty())
            return std::nullopt;
        switch (number->rest.front()) {
        case 'H':
            hours += number->value;
            break;
        case 'M':
            minutes += number->value;
            break;
        case 'S':
            seconds += number->value;
            break;
        default:
            return std::nullopt;
        }
        text = number->rest.substr(1);
    }
    return in_seconds(hours, minutes, seconds);
}

} // namespace

std::optional<geo::Seconds> read_duration(std::string_view text) {
    text = trimmed(text);
    if (text.starts_with("P"))
        return read_iso(text);
    const auto parts = split_list(text, ":");
    double values[3] = {0.0, 0.0, 0.0};
    if (parts.empty() || parts.size() > 3)
        return std::nullopt;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const auto number = leading_number(parts[i]);
        if (!number || !number->rest.empty())
            return std::nullopt;
        values[i] = number->value;
    }
    if (parts.size() == 1)
        return in_seconds(0.0, values[0], 0.0);
    return in_seconds(values[0], values[1], values[2]);
}

FerryRuling read_ferry(const Tags& tags, geo::Metres crossing, Remarks& remarks) {
    FerryRuling ruling;
    const auto duration = read_duration(tags["duration"]);
    const double speed = duration ? crossing.value / static_cast<double>(duration->count()) : 0.0;
    if (duration && speed >= slowest && speed <= fastest) {
        ruling.under_way = *duration;
    } else {
        remarks.push_back("ferries without a likely duration: 20 km/h assumed");
        ruling.under_way = geo::Seconds{std::llround(crossing.value / assumed_metres_per_second)};
    }
    ruling.boarding = to_board;
    if (const auto interval = read_duration(tags["interval"]))
        ruling.boarding += *interval / 2;
    return ruling;
}

} // namespace routing::roads
