#include "cli/plan_words.hpp"

#include "cli/number_text.hpp"

namespace cli {

std::string line_text(const std::vector<geo::Coordinate>& line) {
    std::string text;
    for (const geo::Coordinate& point : line) {
        text += (text.empty() ? "" : " ") + fixed_text(point.latitude.value, 6) + "," +
                fixed_text(point.longitude.value, 6);
    }
    return text;
}

std::optional<std::vector<geo::Coordinate>> parse_line(std::string_view text) {
    std::vector<geo::Coordinate> line;
    while (!text.empty()) {
        const std::size_t space = text.find(' ');
        const std::string_view point = text.substr(0, space);
        text.remove_prefix(space == std::string_view::npos ? text.size() : space + 1);
        const std::size_t comma = point.find(',');
        if (comma == std::string_view::npos)
            return std::nullopt;
        const auto latitude = parse_number(point.substr(0, comma));
        const auto longitude = parse_number(point.substr(comma + 1));
        if (!latitude || !longitude || !geo::is_valid({{*latitude}, {*longitude}}))
            return std::nullopt;
        line.push_back({{*latitude}, {*longitude}});
    }
    return line;
}

} // namespace cli
