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

enum class Word { whom, from, until };

/// What stands behind the last of the words that end a closure.
struct Suffix {
    Word word;
    std::string_view before, value;
};

/// Nothing when no such word is there.
std::optional<Suffix> last_suffix(std::string_view text) {
    constexpr std::pair<Word, std::string_view> words[] = {
        {Word::whom, " for "}, {Word::from, " from "}, {Word::until, " until "}};
    std::optional<Suffix> last;
    for (const auto& [word, key] : words)
        if (const std::size_t at = text.rfind(key); at != std::string_view::npos && (!last || at > last->before.size()))
            last = Suffix{word, text.substr(0, at), trimmed(text.substr(at + key.size()))};
    return last;
}

bool begins_with_digit(std::string_view text) {
    return !text.empty() && text.front() >= '0' && text.front() <= '9';
}

/// A road's name may hold the words too: then what follows is no time and nobody.
bool belongs_to_name(const Suffix& suffix, std::string_view whole) {
    const bool is_road = trimmed(whole.substr(0, whole.find(':'))) == "road";
    const bool reads = suffix.word == Word::whom ? suffix.value.starts_with("van") || suffix.value.starts_with("foot")
                                                 : begins_with_digit(suffix.value);
    return is_road && !reads && !suffix.value.empty();
}

geo::Instant closing_time(std::string_view text, const ClosingClock& clock, std::optional<geo::Instant> after) {
    const std::string value(text);
    const auto time = geo::parse_clock(value);
    if (!time) {
        const auto when = geo::parse_instant(value, clock.zone);
        if (!when)
            refuse(text, "is no time", "write 14:05, or 2027-05-14T14:05");
        return *when;
    }
    const geo::CivilDate day = geo::civil_date(after.value_or(clock.now), clock.zone);
    const geo::Instant when = geo::instant_of(day, *time, clock.zone);
    if (!after || when >= *after)
        return when;
    return geo::instant_of(geo::CivilDate{std::chrono::sys_days{day} + std::chrono::days{1}}, *time, clock.zone);
}

void take_whom(Closure& closure, std::string_view value, std::string_view whole) {
    closure.van = value == "van" || value == "van,foot" || value == "foot,van";
    closure.foot = value == "foot" || value == "van,foot" || value == "foot,van";
    if (!closure.van && !closure.foot)
        refuse(whole, "does not say whom it holds for", "write ... for van, for foot or for van,foot");
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

Closure parse_closure(std::string_view text, const ClosingClock& clock) {
    std::string_view where = text;
    std::optional<std::string_view> from, until, whom;
    while (const auto suffix = last_suffix(where)) {
        if (belongs_to_name(*suffix, text))
            break;
        auto& place = suffix->word == Word::whom ? whom : suffix->word == Word::from ? from : until;
        if (place)
            refuse(text, "says the same twice", "give each of for, from and until once");
        place = suffix->value;
        where = suffix->before;
    }
    Closure closure = closure_of(where);
    if (whom)
        take_whom(closure, *whom, text);
    if (from)
        closure.from = closing_time(*from, clock, std::nullopt);
    if (until)
        closure.until = closing_time(*until, clock, closure.from.value_or(clock.now));
    if (closure.from && closure.until && *closure.until <= *closure.from)
        refuse(text, "ends before it begins", "write ... from 10:00 until 15:00, with dates where it is not one day");
    return closure;
}

} // namespace cli
