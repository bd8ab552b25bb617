#include "cli/read_closure.hpp"

#include "cli/field_values.hpp"
#include "cli/number_text.hpp"
#include "cli/plain_text.hpp"
#include "geo/input_error.hpp"

#include <array>
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

constexpr double largest_radius = 100'000.0; // metres: beyond it a typing error is likelier than a closure
constexpr std::int64_t largest_id = std::int64_t{1} << 53;
constexpr const char* closure_mend = "give one of road, ways, line, area, or point with radius_m";

constexpr std::array<LaterKey, 3> later_keys{{
    {"for", "leave it out: a closure shuts the road for the van"},
    {"from", "leave it out: a closure holds for the whole shoot"},
    {"until", "leave it out: a closure holds for the whole shoot"},
}};

std::string road_label(const RoadNamed& road) {
    return "road \"" + one_line(road.name) + "\"" + (road.near ? " near " + place_text(*road.near) : "");
}

std::string ways_label(const Ways& ways) {
    std::string label = ways.ids.size() == 1 ? "way" : "ways";
    for (std::size_t i = 0; i < ways.ids.size(); ++i)
        label += (i == 0 ? " " : ", ") + std::to_string(ways.ids[i]);
    return label;
}

std::string line_label(const Line& line) {
    return "line of " + std::to_string(line.points.size()) + " points from " + place_text(line.points.front()) +
           " to " + place_text(line.points.back());
}

std::string area_label(const Area& area) {
    return "area of " + std::to_string(area.ring.size()) + " corners at " + place_text(area.ring.front());
}

std::string circle_label(const Circle& circle) {
    return number_text(circle.radius.value) + " m around " + place_text(circle.centre);
}

std::optional<Closure> read_road(const Members& members, const Field& road) {
    const auto name = road.text("write the name or number of the road");
    RoadNamed named;
    if (const auto near = members.find("near")) {
        named.near = read_place(*near);
        if (!named.near)
            return std::nullopt;
    }
    if (!name)
        return std::nullopt;
    named.name = *name;
    return Closure{named, road_label(named)};
}

std::optional<Closure> read_ways(const Field& field) {
    const auto items = field.filled_list("ids of OpenStreetMap ways");
    if (!items)
        return std::nullopt;
    Ways ways;
    for (const Field& item : *items) {
        if (const auto id = item.whole(-largest_id, largest_id, "(id of a way)"))
            ways.ids.push_back(*id);
    }
    if (ways.ids.size() != items->size())
        return std::nullopt;
    return Closure{ways, ways_label(ways)};
}

/// Places, `least` of them at the least. `one` says what each is: "corner".
std::optional<std::vector<geo::Coordinate>> read_places(const Field& field, const std::string& one, std::size_t least) {
    const auto items = field.list(one + "s, {\"lat\": ..., \"lon\": ...}");
    if (!items)
        return std::nullopt;
    std::vector<geo::Coordinate> places;
    for (const Field& item : *items) {
        if (const auto place = read_place(item))
            places.push_back(*place);
    }
    if (places.size() != items->size())
        return std::nullopt;
    if (places.size() < least) {
        field.fault("has " + count_text(places.size(), one), least == 2 ? "give two or more" : "give three or more");
        return std::nullopt;
    }
    return places;
}

std::optional<Closure> read_line(const Field& field) {
    const auto points = read_places(field, "point", 2);
    if (!points)
        return std::nullopt;
    const Line line{*points};
    return Closure{line, line_label(line)};
}

std::optional<Closure> read_area(const Field& field) {
    const auto corners = read_places(field, "corner", 3);
    if (!corners)
        return std::nullopt;
    const Area area{*corners};
    return Closure{area, area_label(area)};
}

std::optional<Closure> read_circle(const Members& members, const Field& point) {
    const auto centre = read_place(point);
    const auto radius_field = members.need("radius_m", "give the radius in metres");
    const auto radius = radius_field ? radius_field->number(1, largest_radius, "metres") : std::nullopt;
    if (!centre || !radius)
        return std::nullopt;
    const Circle circle{*centre, {*radius}};
    return Closure{circle, circle_label(circle)};
}

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
    if (!(*radius >= 1.0 && *radius <= largest_radius))
        refuse(whole, "has a radius out of range", "give 1 to 100000 metres");
    return {parse_place(text.substr(0, comma), "--close"), {*radius}};
}

} // namespace

std::optional<Closure> read_closure(const Field& field) {
    const Members members =
        field.object({"road", "near", "ways", "line", "area", "point", "radius_m", "label"}, later_keys);
    if (!members.real())
        return std::nullopt;
    const auto road = members.find("road"), ways = members.find("ways"), line = members.find("line"),
               area = members.find("area"), point = members.find("point");
    const int named = road.has_value() + ways.has_value() + line.has_value() + area.has_value() + point.has_value();
    if (named != 1) {
        field.fault(named == 0 ? "does not say what is closed" : "names what is closed in more than one way",
                    closure_mend);
        return std::nullopt;
    }
    if (const auto near = members.find("near"); near && !road)
        near->fault("only goes with road", "leave it out");
    if (const auto radius = members.find("radius_m"); radius && !point)
        radius->fault("only goes with point", "leave it out");

    auto closure = road   ? read_road(members, *road)
                   : ways ? read_ways(*ways)
                   : line ? read_line(*line)
                   : area ? read_area(*area)
                          : read_circle(members, *point);
    if (const auto label = members.find("label")) {
        const auto text = label->text("write how people call it");
        if (closure && text)
            closure->label = *text;
    }
    return closure;
}

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

Closure parse_closure(std::string_view text) {
    const std::size_t colon = text.find(':');
    const std::string_view kind = trimmed(text.substr(0, colon));
    const std::string_view rest = colon == std::string_view::npos ? "" : text.substr(colon + 1);
    if (kind == "road") {
        const RoadNamed road = parse_road(rest, text);
        return {road, road_label(road)};
    }
    if (kind == "ways") {
        const Ways ways = parse_ways(rest, text);
        return {ways, ways_label(ways)};
    }
    if (kind == "line") {
        const Line line = parse_line(rest, text);
        return {line, line_label(line)};
    }
    if (kind == "area") {
        const Area area = parse_area(rest, text);
        return {area, area_label(area)};
    }
    if (kind == "circle") {
        const Circle circle = parse_circle(rest, text);
        return {circle, circle_label(circle)};
    }
    refuse(text, "does not say what is closed",
           "write road:NAME, road:NAME@LAT,LON, ways:ID,ID, line:LAT,LON;LAT,LON, area:LAT,LON;LAT,LON;LAT,LON or "
           "circle:LAT,LON,RADIUS_M");
}

} // namespace cli
