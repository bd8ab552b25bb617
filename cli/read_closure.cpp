#include "cli/read_closure.hpp"

#include "cli/closure_words.hpp"
#include "cli/field_values.hpp"
#include "cli/number_text.hpp"
#include "cli/plain_text.hpp"

#include <array>
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

constexpr std::int64_t largest_id = std::int64_t{1} << 53;
constexpr std::array<LaterKey, 1> later_keys{{{"for", "leave it out: a closure shuts the road for the van"}}};
constexpr const char* closure_mend = "give one of road, ways, line, area, or point with radius_m";

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
    return Closure{named, closure_label(named)};
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
    return Closure{ways, closure_label(ways)};
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
    return Closure{line, closure_label(line)};
}

std::optional<Closure> read_area(const Field& field) {
    const auto corners = read_places(field, "corner", 3);
    if (!corners)
        return std::nullopt;
    const Area area{*corners};
    return Closure{area, closure_label(area)};
}

std::optional<Closure> read_circle(const Members& members, const Field& point) {
    const auto centre = read_place(point);
    const auto radius_field = members.need("radius_m", "give the radius in metres");
    const auto radius = radius_field ? radius_field->number(1, largest_closed_radius, "metres") : std::nullopt;
    if (!centre || !radius)
        return std::nullopt;
    const Circle circle{*centre, {*radius}};
    return Closure{circle, closure_label(circle)};
}

} // namespace

std::optional<Closure> read_closure(const Field& field, const geo::TimeZone& zone) {
    const Members members = field.object(
        {"road", "near", "ways", "line", "area", "point", "radius_m", "label", "from", "until"}, later_keys);
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
    const auto from = members.find("from"), until = members.find("until");
    const auto begins = from ? read_instant(*from, zone) : std::nullopt;
    const auto ends = until ? read_instant(*until, zone) : std::nullopt;
    if (begins && ends && *ends <= *begins)
        until->fault("is not after from", "give the time the closure ends, or leave it out");
    if ((from && !begins) || (until && !ends) || !closure)
        return std::nullopt;
    closure->from = begins;
    closure->until = ends;
    return closure;
}

} // namespace cli
