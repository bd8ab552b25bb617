#include "cli/find_light_wish.hpp"

#include "cli/known_names.hpp"
#include "cli/number_text.hpp"
#include "cli/plain_text.hpp"
#include "geo/input_error.hpp"

#include <cmath>
#include <vector>

namespace cli {

namespace {

constexpr int longest_minutes = 24 * 60;

[[noreturn]] void refuse(const std::string& value, const std::string& problem, const std::string& mend) {
    throw geo::InputError({{"", "--find", shown(value), problem, mend}});
}

std::vector<std::string> words_of(std::string_view text) {
    std::vector<std::string> words{""};
    for (const char letter : one_line(text)) {
        if (letter != ' ')
            words.back() += letter;
        else if (!words.back().empty())
            words.emplace_back();
    }
    if (words.back().empty())
        words.pop_back();
    return words;
}

struct NamedMoment {
    const char* name;
    RiseOrSet moment;
};
constexpr NamedMoment moments[] = {{"sunrise", {SkyBody::sun, true}},
                                   {"sunset", {SkyBody::sun, false}},
                                   {"moonrise", {SkyBody::moon, true}},
                                   {"moonset", {SkyBody::moon, false}}};

std::vector<std::string> things_to_find() {
    std::vector<std::string> names{"sun", "moon"};
    for (const NamedMoment& row : moments)
        names.emplace_back(row.name);
    for (const geo::LightName name : geo::light_names())
        if (name != geo::LightName::sunrise && name != geo::LightName::sunset && name != geo::LightName::any)
            names.emplace_back(geo::to_string(name));
    return names;
}

/// Reads the words after the thing, one limit after the other.
class Limits {
public:
    explicit Limits(const std::vector<std::string>& words) : words_(words) {}

    std::optional<geo::AzimuthRange> bearing;
    std::optional<geo::Degrees> above, below;
    std::optional<std::chrono::minutes> at_least;

    void read() {
        while (next_ < words_.size()) {
            const std::string& word = words_[next_++];
            if (word == "at")
                once(bearing, word) = read_bearing();
            else if (word == "above")
                once(above, word) = read_height(word);
            else if (word == "below")
                once(below, word) = read_height(word);
            else if (word == "for")
                once(at_least, word) = read_minutes();
            else
                refuse(word, "is no limit", "write at bearing A..B, above H, below H or for N min");
        }
    }

private:
    template <class Value>
    static std::optional<Value>& once(std::optional<Value>& value, const std::string& word) {
        if (value)
            refuse(word, "is there twice", "give each limit once");
        return value;
    }

    /// The next word; "" at the end.
    std::string take() { return next_ < words_.size() ? words_[next_++] : ""; }

    geo::AzimuthRange read_bearing() {
        const std::string word = take();
        if (word != "bearing")
            refuse("at" + (word.empty() ? "" : " " + word), "says not what", "write at bearing A..B, like 235..245");
        const std::string range = take();
        const std::size_t dots = range.find("..");
        if (dots == std::string::npos)
            refuse(range, "is no range of bearings", "write two with dots between, like 235..245");
        const auto from = parse_number(range.substr(0, dots));
        const auto until = parse_number(range.substr(dots + 2));
        const auto is_bearing = [](const std::optional<double>& number) {
            return number && *number >= 0.0 && *number <= 360.0;
        };
        if (!is_bearing(from) || !is_bearing(until))
            refuse(range, "is no range of bearings", "give 0 to 360 degrees clockwise from true north, like 235..245");
        if (*from == *until)
            refuse(range, "is no range but one bearing", "give two that differ, like 236..246");
        if (std::abs(*from - *until) == 360.0)
            refuse(range, "is all round", "leave \"at bearing\" out");
        return {{*from}, {*until}};
    }

    geo::Degrees read_height(const std::string& word) {
        const std::string text = take();
        const auto height = parse_number(text);
        if (!height || *height < 0.0 || *height > 90.0)
            refuse(word + (text.empty() ? "" : " " + text), "is no height above the horizon",
                   "give 0 to 90 degrees; for light of a sun that is down name the light, like blue-evening");
        return {*height};
    }

    std::chrono::minutes read_minutes() {
        const std::string text = take();
        const auto number = parse_number(text);
        if (!number || *number < 1.0 || *number > longest_minutes || *number != std::floor(*number))
            refuse("for" + (text.empty() ? "" : " " + text), "is no length",
                   "give whole minutes, 1 to 1440, like for 30 min");
        if (const std::string unit = take(); unit != "min")
            refuse(unit, "is no unit known here", "write for " + text + " min");
        return std::chrono::minutes(static_cast<int>(*number));
    }

    const std::vector<std::string>& words_;
    std::size_t next_ = 1;
};

std::variant<RiseOrSet, BodySeen, geo::LightName> thing(const std::string& word, const Limits& limits) {
    if (word == "sun" || word == "moon") {
        if (limits.above && limits.below && *limits.above >= *limits.below)
            refuse(number_text(limits.above->value) + " and " + number_text(limits.below->value),
                   "leave no height between", "give above the smaller one and below the larger");
        return BodySeen{word == "sun" ? SkyBody::sun : SkyBody::moon, limits.above, limits.below};
    }
    for (const NamedMoment& row : moments) {
        const auto light = geo::parse_light_name(word);
        if (word == row.name && !(light && limits.at_least))
            return row.moment;
    }
    if (const auto name = geo::parse_light_name(word); name && *name != geo::LightName::any)
        return *name;
    refuse(word, "is nothing that can be looked for", offer_names(word, things_to_find(), "thing to find"));
}

/// The sun's bearing says nothing about a light that is there when it is far down.
bool is_of_the_night(geo::LightName name) {
    using enum geo::LightName;
    return name == night || name == dark_sky || name == moonlight;
}

} // namespace

FindWish parse_find_wish(std::string_view text) {
    const std::vector<std::string> words = words_of(text);
    if (words.empty())
        refuse("", "says nothing", "write what to look for, like \"sunset at bearing 235..245\" or \"dark-sky\"");
    Limits limits(words);
    limits.read();
    const auto what = thing(words.front(), limits);
    const bool is_moment = std::holds_alternative<RiseOrSet>(what);
    if (is_moment && limits.at_least)
        refuse(words.front(), "is a moment and has no length", "leave \"for\" out, or name a light");
    if (!std::holds_alternative<BodySeen>(what) && (limits.above || limits.below))
        refuse(words.front(), "has its own heights", "leave \"above\" and \"below\" to sun and moon");
    if (const auto* name = std::get_if<geo::LightName>(&what); name && limits.bearing && is_of_the_night(*name))
        refuse(words.front(), "has no bearing: the sun is far down",
               "leave \"at bearing\" out, or look for moon at bearing A..B");
    return {one_line(text), what, limits.bearing, limits.at_least.value_or(std::chrono::minutes{0})};
}

} // namespace cli
