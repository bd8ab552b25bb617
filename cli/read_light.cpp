#include "cli/read_light.hpp"

#include "cli/field_values.hpp"
#include "cli/known_names.hpp"
#include "cli/number_text.hpp"

#include <algorithm>
#include <array>
#include <string>

namespace cli {

namespace {

constexpr const char* light_mend =
    R"(write a name like "golden-evening", {"sun_altitude": [-4, 6]} or {"clock": ["10:00", "16:00"]})";

constexpr std::array<LaterKey, 2> later_names{{
    {"direct-sun", R"(give the sun's height, {"sun_altitude": [5, 90]})"},
    {"open-shade", R"(write the hours with {"clock": ["10:00", "16:00"]})"},
}};

constexpr std::array<LaterKey, 4> later_keys{{
    {"sun", "leave it out and give sun_altitude or clock"},
    {"facing_deg", "leave it out and give sun_altitude or clock"},
    {"min_quality", "leave it out and narrow sun_altitude instead"},
    {"moon", "leave it out and give sun_altitude or clock"},
}};

std::optional<geo::LightRequest> read_name(const Field& field) {
    const auto text = field.text(light_mend);
    if (!text)
        return std::nullopt;
    const auto later =
        std::find_if(later_names.begin(), later_names.end(), [&](const LaterKey& key) { return key.key == *text; });
    if (later != later_names.end()) {
        field.fault("is not supported by this version", std::string(later->mend));
        return std::nullopt;
    }
    if (const auto name = geo::parse_light_name(*text))
        return *name;
    std::vector<std::string> names;
    for (const geo::LightName name : geo::light_names())
        names.emplace_back(geo::to_string(name));
    field.fault("is no light known here", offer_names(*text, names, "light"));
    return std::nullopt;
}

std::optional<geo::LightRequest> read_sun_altitude(const Members& members, const Field& field) {
    const auto items = field.list("two heights of the sun");
    std::optional<double> low, high;
    if (items && items->size() != 2) {
        field.fault("holds " + count_text(items->size(), "item"), "give lowest and highest, [-4, 6]");
    } else if (items) {
        low = (*items)[0].number(-90, 90, "degrees");
        high = (*items)[1].number(-90, 90, "degrees");
        if (low && high && !(*low < *high)) {
            field.fault("runs from high to low", "give the lower height of the sun first, [-4, 6]");
            low.reset();
        }
    }
    std::optional<geo::HalfDay> half;
    bool half_read = true;
    if (const auto when = members.find("when")) {
        const auto text = when->text("write morning or evening");
        if (text && *text == "morning")
            half = geo::HalfDay::morning;
        else if (text && *text == "evening")
            half = geo::HalfDay::evening;
        else if (text)
            when->fault("is no half of the day", "write morning (sun climbing) or evening (sun sinking)");
        half_read = half.has_value();
    }
    if (!low || !high || !half_read)
        return std::nullopt;
    return geo::SunAltitudeRange{{*low}, {*high}, half};
}

std::optional<geo::LightRequest> read_object(const Field& field) {
    const Members members = field.object({"sun_altitude", "when", "clock"}, later_keys);
    const auto altitude = members.find("sun_altitude"), clock = members.find("clock");
    if (altitude && clock) {
        field.fault("asks for sun_altitude and clock at once", "keep one of the two");
        return std::nullopt;
    }
    if (altitude)
        return read_sun_altitude(members, *altitude);
    if (const auto when = members.find("when"))
        when->fault("only goes with sun_altitude", "leave it out");
    if (!clock) {
        const bool refused = std::any_of(later_keys.begin(), later_keys.end(),
                                         [&](const LaterKey& key) { return members.find(key.key).has_value(); });
        if (!refused) // a refused key has had its say
            field.fault("asks for no light", light_mend);
        return std::nullopt;
    }
    const auto times = read_clock_pair(*clock);
    if (!times)
        return std::nullopt;
    return geo::ClockRange{times->first, times->second};
}

std::optional<geo::LightRequest> read_one(const Field& field) {
    if (field.is(JsonValue::Kind::object))
        return read_object(field);
    return read_name(field);
}

} // namespace

std::optional<std::vector<geo::LightRequest>> read_light(const Field& field) {
    if (!field.is(JsonValue::Kind::list)) {
        const auto one = read_one(field);
        if (!one)
            return std::nullopt;
        return std::vector<geo::LightRequest>{*one};
    }
    const auto items = field.filled_list("lights");
    if (!items)
        return std::nullopt;
    std::vector<geo::LightRequest> lights;
    for (const Field& item : *items) {
        if (const auto one = read_one(item))
            lights.push_back(*one);
    }
    if (lights.size() != items->size())
        return std::nullopt;
    return lights;
}

} // namespace cli
