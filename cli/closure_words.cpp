#include "cli/closure_words.hpp"

#include "cli/field_values.hpp"
#include "cli/number_text.hpp"
#include "cli/plain_text.hpp"
#include "routing/shoot/closed_roads.hpp"

namespace cli {

std::string closure_label(const routing::roads::RoadNamed& road) {
    return "road \"" + one_line(road.name) + "\"" + (road.near ? " near " + place_text(*road.near) : "");
}

std::string closure_label(const routing::roads::Ways& ways) {
    std::string label = ways.ids.size() == 1 ? "way" : "ways";
    for (std::size_t i = 0; i < ways.ids.size(); ++i)
        label += (i == 0 ? " " : ", ") + std::to_string(ways.ids[i]);
    return label;
}

std::string closure_label(const routing::roads::Line& line) {
    return "line of " + std::to_string(line.points.size()) + " points from " + place_text(line.points.front()) +
           " to " + place_text(line.points.back());
}

std::string closure_label(const routing::roads::Area& area) {
    return "area of " + std::to_string(area.ring.size()) + " corners at " + place_text(area.ring.front());
}

std::string closure_label(const routing::roads::Circle& circle) {
    return number_text(circle.radius.value) + " m around " + place_text(circle.centre);
}

std::string closure_text(const routing::roads::Closure& closure, const geo::TimeZone& zone) {
    const std::string hours = routing::shoot::hours_text(closure, zone);
    return closure.label + (hours.empty() ? "" : " (" + hours + ")");
}

} // namespace cli
