#include "cli/read_light_wish.hpp"

#include "cli/field_values.hpp"
#include "cli/known_names.hpp"
#include "cli/number_text.hpp"
#include "cli/read_light.hpp"

#include <algorithm>
#include <array>
#include <string>
#include <tuple>
#include <vector>

namespace cli {

namespace {

/// Two numbers from low to high, the first the lesser.
std::optional<std::pair<double, double>> read_range(const Field& field, double low, double high, std::string_view unit,
                                                    const std::string& example) {
    const auto items = field.list("two numbers");
    if (!items)
        return std::nullopt;
    if (items->size() != 2) {
        field.fault("holds " + count_text(items->size(), "item"), "give lowest and highest, " + example);
        return std::nullopt;
    }
    const auto first = (*items)[0].number(low, high, unit);
    const auto second = (*items)[1].number(low, high, unit);
    if (!first || !second)
        return std::nullopt;
    if (!(*first < *second)) {
        field.fault("runs from high to low", "give the lower one first, " + example);
        return std::nullopt;
    }
    return std::pair{*first, *second};
}

std::optional<geo::SunAltitudeRange> read_sun_altitude(const Members& members) {
    const auto field = members.find("sun_altitude");
    const auto when = members.find("when");
    if (!field) {
        if (when)
            when->fault("only goes with sun_altitude", "leave it out");
        return std::nullopt;
    }
    const auto range = read_range(*field, -90, 90, "degrees", "[-4, 6]");
    std::optional<geo::HalfDay> half;
    if (when) {
        const auto text = when->text("write morning or evening");
        if (text && *text == "morning")
            half = geo::HalfDay::morning;
        else if (text && *text == "evening")
            half = geo::HalfDay::evening;
        else if (text)
            when->fault("is no half of the day", "write morning (sun climbing) or evening (sun sinking)");
    }
    if (!range)
        return std::nullopt;
    return geo::SunAltitudeRange{{range->first}, {range->second}, half};
}

/// Degrees clockwise from true north.
std::optional<geo::Degrees> read_bearing(const Field& field) {
    const auto bearing = field.number(0, 360, "degrees");
    return bearing ? std::optional(geo::Degrees{*bearing}) : std::nullopt;
}

struct LensWish {
    geo::Lens lens;
    geo::Degrees pitch;
};

LensWish read_lens(const Field& field) {
    const Members members = field.object({"focal_mm", "sensor_width_mm", "sensor_height_mm", "pitch_deg"});
    LensWish wish{};
    if (const auto focal = members.need("focal_mm", "give the lens's focal length in millimetres"))
        wish.lens.focal_length = {focal->number(1, 3000, "mm").value_or(50.0)};
    if (const auto width = members.find("sensor_width_mm")) {
        wish.lens.sensor_width = {width->number(1, 200, "mm").value_or(36.0)};
        wish.lens.sensor_height = wish.lens.sensor_width * (2.0 / 3.0);
    }
    if (const auto height = members.find("sensor_height_mm"))
        wish.lens.sensor_height = {height->number(1, 200, "mm").value_or(24.0)};
    if (const auto pitch = members.find("pitch_deg"))
        wish.pitch = {pitch->number(-90, 90, "degrees").value_or(0.0)};
    return wish;
}

/// What only goes with a word in `sun`.
void refuse_without(const Members& members, const char* key, const std::string& needed) {
    if (const auto field = members.find(key))
        field->fault("only goes with " + needed, "leave it out, or add " + needed);
}

std::optional<geo::SunDirection> read_side(const Members& members, const Field& field, geo::Degrees facing) {
    static const std::vector<std::string> words{"behind", "side", "front", "in-frame"};
    const auto text = field.text("write behind, side, front or in-frame");
    if (!text)
        return std::nullopt;
    const auto word = std::find(words.begin(), words.end(), *text);
    if (word == words.end()) {
        field.fault("is no place of the sun", offer_names(*text, words, "place"));
        return std::nullopt;
    }
    if (*text == "in-frame") {
        refuse_without(members, "side_limits_deg", R"("sun": "behind", "side" or "front")");
        const auto lens = members.need("lens", R"(give the lens, {"focal_mm": 35})");
        if (!lens)
            return std::nullopt;
        const LensWish wish = read_lens(*lens);
        return geo::SunInFrame{facing, wish.lens, wish.pitch};
    }
    refuse_without(members, "lens", R"("sun": "in-frame")");
    geo::SunBeside beside{facing, static_cast<geo::SunSide>(word - words.begin())};
    if (const auto limits = members.find("side_limits_deg")) {
        if (const auto range = read_range(*limits, 0, 180, "degrees", "[45, 135]")) {
            beside.behind_within = {range->first};
            beside.front_beyond = {range->second};
        }
    }
    return beside;
}

std::optional<geo::SunDirection> read_direction(const Members& members, std::optional<geo::Degrees> facing) {
    const auto sun = members.find("sun"), azimuth = members.find("sun_azimuth"), own = members.find("facing_deg");
    if (own)
        facing = read_bearing(*own).value_or(geo::Degrees{0.0});
    if (azimuth) {
        if (sun)
            azimuth->fault("asks for the sun's place twice, sun and sun_azimuth", "keep one of the two");
        const auto items = azimuth->list("two bearings");
        if (items && items->size() != 2) {
            azimuth->fault("holds " + count_text(items->size(), "item"),
                           "give two bearings, clockwise from the first to the second, [235, 245]");
        } else if (items) {
            const auto from = read_bearing((*items)[0]), until = read_bearing((*items)[1]);
            if (from && until && *from == *until)
                azimuth->fault("begins and ends at one bearing", "give two bearings, like [235, 245]");
            else if (from && until)
                return geo::AzimuthRange{*from, *until};
        }
        return std::nullopt;
    }
    if (!sun) {
        refuse_without(members, "facing_deg", "sun");
        refuse_without(members, "side_limits_deg", "sun");
        refuse_without(members, "lens", R"("sun": "in-frame")");
        return std::nullopt;
    }
    if (!facing)
        sun->fault("needs the way the camera looks",
                   "give \"facing_deg\" here or at the location, degrees clockwise from true north");
    return read_side(members, *sun, facing.value_or(geo::Degrees{0.0}));
}

std::optional<geo::MoonWish> read_moon(const Field& field) {
    constexpr const char* mend =
        R"(write "up", "down", {"above_deg": 10, "lit": [0.5, 1]} or {"down_or_lit_at_most": 0.1})";
    if (!field.is(JsonValue::Kind::object)) {
        const auto text = field.text(mend);
        if (text && *text == "up")
            return geo::MoonUp{};
        if (text && *text == "down")
            return geo::MoonAbsent{};
        if (text)
            field.fault("is no place of the moon", mend);
        return std::nullopt;
    }
    const Members members = field.object({"above_deg", "lit", "down_or_lit_at_most"});
    const auto above = members.find("above_deg"), lit = members.find("lit"),
               allowed = members.find("down_or_lit_at_most");
    if (allowed) {
        if (above || lit)
            field.fault("asks for a moon that is up and one that is not", "keep one of the two");
        return geo::MoonAbsent{allowed->number(0, 1, "of the disc").value_or(0.0)};
    }
    if (!above && !lit) {
        field.fault("says nothing about the moon", mend);
        return std::nullopt;
    }
    geo::MoonUp up;
    if (above)
        up.above = geo::Degrees{above->number(-90, 90, "degrees").value_or(0.0)};
    if (lit) {
        if (const auto range = read_range(*lit, 0, 1, "of the disc", "[0.5, 1]"))
            std::tie(up.lit_from, up.lit_until) = *range;
    }
    return up;
}

std::optional<geo::QualityCurve> read_quality(const Field& field) {
    constexpr const char* mend = "give points of the sun's altitude and quality, [[-4, 0.4], [0, 1], [6, 0.5]]";
    const auto items = field.filled_list("points of the curve");
    if (!items)
        return std::nullopt;
    geo::QualityCurve curve;
    for (const Field& item : *items) {
        const auto pair = item.list("two numbers");
        if (!pair)
            continue;
        if (pair->size() != 2) {
            item.fault("holds " + count_text(pair->size(), "item"), mend);
            continue;
        }
        const auto altitude = (*pair)[0].number(-90, 90, "degrees");
        const auto quality = (*pair)[1].number(0, 1, "(quality)");
        if (!altitude || !quality)
            continue;
        if (!curve.empty() && !(curve.back().sun_altitude.value < *altitude))
            item.fault("does not lie above the point before it", "give the points from low to high sun");
        curve.push_back({{*altitude}, *quality});
    }
    return curve;
}

} // namespace

std::optional<geo::LightName> read_light_name(const Field& field) {
    const auto text = field.text(light_mend);
    if (!text)
        return std::nullopt;
    if (const auto name = geo::parse_light_name(*text))
        return *name;
    std::vector<std::string> names;
    for (const geo::LightName name : geo::light_names())
        names.emplace_back(geo::to_string(name));
    field.fault("is no light known here", offer_names(*text, names, "light"));
    return std::nullopt;
}

std::optional<geo::LightRequest> read_light_object(const Field& field, std::optional<geo::Degrees> facing) {
    const std::size_t faults_before = field.faults().count();
    const Members members = field.object({"name", "sun_altitude", "when", "sun_azimuth", "sun", "facing_deg",
                                          "side_limits_deg", "lens", "moon", "clock", "quality", "min_quality"});
    geo::LightWish wish;
    const auto name = members.find("name");
    if (name)
        wish.name = read_light_name(*name).value_or(geo::LightName::any);
    wish.sun = read_sun_altitude(members);
    wish.direction = read_direction(members, facing);
    if (const auto moon = members.find("moon"))
        wish.moon = read_moon(*moon);
    if (const auto clock = members.find("clock"))
        if (const auto times = read_clock_pair(*clock))
            wish.clock = geo::ClockRange{times->first, times->second};
    const auto quality = members.find("quality"), least = members.find("min_quality");
    if (quality)
        wish.quality = read_quality(*quality);
    if (least)
        wish.min_quality = least->number(0, 1, "(quality)").value_or(0.0);
    if (field.faults().count() != faults_before)
        return std::nullopt;
    if (!name && !wish.sun && !wish.direction && !wish.moon && !wish.clock && !wish.quality) {
        field.fault("asks for no light", light_mend);
        return std::nullopt;
    }
    // The plain ones stay plain: they print and compare as such.
    if (wish == geo::LightWish{.sun = wish.sun} && wish.sun)
        return *wish.sun;
    if (wish == geo::LightWish{.clock = wish.clock} && wish.clock)
        return *wish.clock;
    return wish;
}

} // namespace cli
