#include "routing/roads/conditional.hpp"

#include "routing/hours/condition.hpp"
#include "routing/roads/tag_text.hpp"

#include <algorithm>
#include <array>

namespace routing::roads {
namespace {

// Words of the wiki page "Conditional restrictions": road condition, purpose of the trip, kind of vehicle. None of them
// can be proved for a crew's van in advance.
constexpr std::array known_words{"wet",        "snow",        "ice",      "emergency", "flood",        "delivery",
                                 "customers",  "destination", "private",  "residents", "agricultural", "forestry",
                                 "permit",     "hgv",         "goods",    "bus",       "psv",          "motorcar",
                                 "motorcycle", "trailer",     "caravan",  "bicycle",   "foot",         "motor_vehicle",
                                 "vehicle",    "disabled",    "visitors", "employees"};

constexpr std::array seasons{"spring", "summer", "autumn", "winter"};

/// "weight>3.5": compared with the vehicle's own size; unknown when the crew did not give it.
Truth compare(std::string_view quantity, std::string_view sign, std::string_view number, const Vehicle& vehicle) {
    std::optional<double> ours;
    if (quantity == "weight" || quantity == "weightrating" || quantity == "maxweight" || quantity == "maxweightrating")
        ours = vehicle.weight ? std::optional{vehicle.weight->value} : std::nullopt;
    else if (quantity == "height")
        ours = vehicle.height ? std::optional{vehicle.height->value} : std::nullopt;
    else if (quantity == "width")
        ours = vehicle.width ? std::optional{vehicle.width->value} : std::nullopt;
    else if (quantity == "length")
        ours = vehicle.length ? std::optional{vehicle.length->value} : std::nullopt;
    else if (quantity != "axleload" && quantity != "axles" && quantity != "seats" && quantity != "occupants" &&
             quantity != "stay")
        return Truth::unreadable;
    const auto limit = leading_number(number);
    if (!limit)
        return Truth::unreadable;
    if (!ours || !(limit->rest.empty() || limit->rest == "t" || limit->rest == "m"))
        return Truth::unknown;
    const double theirs = limit->value;
    const bool holds = sign == ">"    ? *ours > theirs
                       : sign == ">=" ? *ours >= theirs
                       : sign == "<"  ? *ours < theirs
                       : sign == "<=" ? *ours <= theirs
                                      : *ours == theirs;
    return holds ? Truth::yes : Truth::no;
}

/// One part of "A AND B"; a time goes to `times`.
Truth judge_one(std::string_view condition, const Vehicle& vehicle, std::vector<std::string>& times) {
    condition = hours::without_brackets(condition);
    const std::string lower = lower_case(condition);
    if (lower == "24/7")
        return Truth::yes;
    if (std::find(known_words.begin(), known_words.end(), lower) != known_words.end())
        return Truth::unknown;
    if (is_season(lower)) {
        times.push_back(lower);
        return Truth::at_times;
    }
    if (const std::size_t sign = lower.find_first_of("<>="); sign != std::string::npos) {
        const std::size_t after = lower.find_first_not_of("<>=", sign);
        if (sign == 0 || after == std::string::npos)
            return Truth::unreadable;
        const std::string_view view = lower;
        return compare(trimmed(view.substr(0, sign)), view.substr(sign, after - sign), view.substr(after), vehicle);
    }
    if (condition.empty() || !hours::is_time_condition(condition))
        return Truth::unreadable;
    times.emplace_back(condition);
    return Truth::at_times;
}

/// How much a part leaves open of "A AND B": what stands further down decides.
int weight_of(Truth truth) {
    constexpr std::array rising{Truth::yes, Truth::at_times, Truth::unknown, Truth::no, Truth::unreadable};
    return static_cast<int>(std::find(rising.begin(), rising.end(), truth) - rising.begin());
}

/// All parts of "A AND B" must hold.
Truth judge(std::string_view condition, const Vehicle& vehicle, std::vector<std::string>& times) {
    condition = hours::without_brackets(condition);
    if (condition.empty() ||
        std::count(condition.begin(), condition.end(), '(') != std::count(condition.begin(), condition.end(), ')'))
        return Truth::unreadable;
    const std::string_view conjunction = " and ";
    const std::string lower = lower_case(condition);
    Truth all = Truth::yes;
    for (std::size_t begin = 0; begin <= lower.size();) {
        const std::size_t end = std::min(lower.find(conjunction, begin), lower.size());
        const Truth one = judge_one(condition.substr(begin, end - begin), vehicle, times);
        if (weight_of(one) > weight_of(all))
            all = one;
        begin = end + conjunction.size();
    }
    if (all != Truth::at_times)
        times.clear();
    return all;
}

} // namespace

bool is_season(std::string_view word) {
    return std::find(seasons.begin(), seasons.end(), word) != seasons.end();
}

std::vector<ConditionalClause> read_conditional(std::string_view text, const Vehicle& vehicle) {
    std::vector<ConditionalClause> clauses;
    for (const std::string_view clause : split_list(text, ";")) {
        const std::size_t at = clause.find('@');
        if (at == std::string_view::npos) {
            clauses.push_back({clause});
            continue;
        }
        const std::string_view value = trimmed(clause.substr(0, at));
        ConditionalClause read{value};
        if (!value.empty())
            read.holds = judge(clause.substr(at + 1), vehicle, read.times);
        clauses.push_back(std::move(read));
    }
    if (clauses.empty())
        clauses.push_back({trimmed(text)});
    return clauses;
}

} // namespace routing::roads
