#include "cli/close_option.hpp"

#include "cli/closure_words.hpp"
#include "cli/number_text.hpp"
#include "cli/plain_text.hpp"
#include "geo/input_error.hpp"

#include <charconv>
#include <cmath>
#include <vector>

namespace cli {

using routing::roads::Area;
using routing::roads::Circle;
using routing::roads::Closure;
using routing::roads::Line;
using routing::roads::OsmId;
using routing::roads::RoadNamed;
using routing::roads::Ways;

namespace {

[[noreturn]] void refuse(std::string_view value, const std::string& problem, const std::string& mend) {
    throw geo::InputError({{"", "--close", shown(value), problem, mend}});
}

std::vector<std::string_view> split(std::string_view text, char separator) {
    std::vector<std::string_view> parts;
    for (;;) {
        const std::size_t end = text.find(separator);
        parts.push_back(text.substr(0, end));
        if (end == std::string_view::npos)
            return parts;
        text.remove_prefix(end + 1);
    }
}

std::string_view trimmed(std::string_view text) {
    const std::size_t start = text.find_first_not_of(' ');
    return start == std::string_view::npos ? "" : text.substr(start, text.find_last_not_of(' ') - start + 1);
}

RoadNamed parse_road(std::string_view text, std::string_view whole) {
    RoadNamed road;
    // The last @ parts name and place, so that a name may hold one.
    const std::size_t at = text.rfind('@');
    road.name = trimmed(text.substr(0, at));
    if (at != std::string_view::npos)
        road.near = parse_place(text.substr(at + 1), "--close");
    if (road.name.empty())
        refuse(whole, "names no road", "write road:NAME or road:NAME@LAT,LON");
    return road;
}

Ways parse_ways(std::string_view text, std::string_view whole) {
    Ways ways;
    for (const std::string_view part : split(text, ',')) {
        const std::string_view digits = trimmed(part);
        OsmId id = 0;
        const auto end = std::from_chars(digits.data(), digits.data() + digits.size(), id);
        if (digits.empty() || end.ec != std::errc{} || end.ptr != digits.data() + digits.size())
            refuse(whole, "is no list of way ids", "write ways:ID,ID,...");
        ways.ids.push_back(id);
    }
    return ways;
}

Line parse_line(std::string_view text, std::string_view whole) {
    Line line;
    for (const std::string_view part : split(text, ';'))
        line.points.push_back(parse_place(part, "--close"));
    if (line.points.size() < 2)
        refuse(whole, "has " + count_text(line.points.size(), "point"), "write two or more, line:LAT,LON;LAT,LON");
    return line;
}

Area parse_area(std::string_view text, std::string_view whole) {
    Area area;
    for (const std::string_view part : split(text, ';'))
        area.ring.push_back(parse_place(part, "--close"));
    if (area.ring.size() < 3)
        refuse(whole, "has " + count_text(area.ring.size(), "corner"),
               "write three or more, area:LAT,LON;LAT,LON;LAT,LON");
    return area;
}

Circle parse_circle(std::string_view text, std::string_view whole) {
    const std::size_t comma = text.rfind(',');
    const auto radius = comma == std::string_view::npos ? std::nullopt : parse_number(trimmed(text.substr(comma + 1)));
    if (split(text, ',').size() != 3 || !radius)
        refuse(whole, "is no circle", "write circle:LAT,LON,RADIUS_M");
    if (!(*radius >= 1.0 && *radius <= largest_closed_radius))
        refuse(whole, "has a radius out of range", "give 1 to 100000 metres");
    return {parse_place(text.substr(0, comma), "--close"), {*radius}};
}

/// Without times.
Closure closure_of(std::string_view text) {
    const std::size_t colon = text.find(':');
    const std::string_view kind = trimmed(text.substr(0, colon));
    const std::string_view rest = colon == std::string_view::npos ? "" : text.substr(colon + 1);
    if (kind == "road") {
        const RoadNamed road = parse_road(rest, text);
        return {road, closure_label(road)};
    }
    if (kind == "ways") {
        const Ways ways = parse_ways(rest, text);
        return {ways, closure_label(ways)};
    }
    if (kind == "line") {
        const Line line = parse_line(rest, text);
        return {line, closure_label(line)};
    }
    if (kind == "area") {
        const Area area = parse_area(rest, text);
        return {area, closure_label(area)};
    }
    if (kind == "circle") {
        const Circle circle = parse_circle(rest, text);
        return {circle, closure_label(circle)};
    }
    refuse(text, "does not say what is closed",
           "write road:NAME, road:NAME@LAT,LON, ways:ID,ID, line:LAT,LON;LAT,LON, area:LAT,LON;LAT,LON;LAT,LON or "
           "circle:LAT,LON,RADIUS_M");
}

struct Suffix {
    std::string_view before, value;
};

/// What stands behind the last ` word `; nothing when the word is not there.
std::optional<Suffix> split_off(std::string_view text, std::string_view word) {
    const std::string key = " " + std::string(word) + " ";
    const std::size_t at = text.rfind(key);
    if (at == std::string_view::npos)
        return std::nullopt;
    return Suffix{text.substr(0, at), trimmed(text.substr(at + key.size()))};
}

} // namespace

geo::Coordinate parse_place(std::string_view text, const std::string& option) {
    const auto refuse_place = [&](const std::string& problem, const std::string& mend) {
        throw geo::InputError({{"", option, shown(text), problem, mend}});
    };
    const auto parts = split(text, ',');
    const auto latitude = parts.size() == 2 ? parse_number(trimmed(parts[0])) : std::nullopt;
    const auto longitude = parts.size() == 2 ? parse_number(trimmed(parts[1])) : std::nullopt;
    if (!latitude || !longitude)
        refuse_place("is no position", "write LAT,LON in degrees, like -35.21,-8.47");
    const geo::Coordinate place{{*latitude}, {*longitude}};
    if (!geo::is_valid(place)) {
        const bool swapped = std::abs(*latitude) <= 180.0 && std::abs(*longitude) <= 90.0;
        refuse_place(swapped ? "is no position: LAT and LON look swapped" : "is no position",
                     "write LAT,LON: latitude -90 to 90 first, longitude -180 to 180");
    }
    return place;
}

Closure parse_closure(std::string_view text, const ParseTime& parse_time) {
    std::string_view where = text;
    std::optional<geo::Instant> from, until;
    const auto take = [&](std::string_view word, std::optional<geo::Instant>& when) {
        const auto suffix = split_off(where, word);
        if (!suffix)
            return;
        when = parse_time(std::string(suffix->value));
        where = suffix->before;
    };
    take("until", until);
    take("from", from);
    if (from && until && *until <= *from)
        refuse(text, "ends before it begins", "write ... from 10:00 until 15:00, with dates where it is not one day");
    Closure closure = closure_of(where);
    closure.from = from;
    closure.until = until;
    return closure;
}

} // namespace cli
