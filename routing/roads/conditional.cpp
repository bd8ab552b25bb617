#include "routing/roads/conditional.hpp"

#include "routing/roads/tag_text.hpp"

#include <algorithm>
#include <array>

namespace routing::roads {
namespace {

// Words of the wiki page "Conditional restrictions": road condition, purpose of the trip, kind of vehicle. None of them
// can be proved for a crew's van in advance.
constexpr std::array known_words{"wet",          "snow",          "ice",        "winter",      "summer",   "emergency",
                                 "flood",        "delivery",      "customers",  "destination", "private",  "residents",
                                 "agricultural", "forestry",      "permit",     "hgv",         "goods",    "bus",
                                 "psv",          "motorcar",      "motorcycle", "trailer",     "caravan",  "bicycle",
                                 "foot",         "motor_vehicle", "vehicle",    "disabled",    "visitors", "employees"};

// How the time conditions of opening_hours begin, in lower case.
constexpr std::array time_starts{"mo",  "tu",  "we",  "th",   "fr",     "sa",      "su",     "ph",   "sh",
                                 "jan", "feb", "mar", "apr",  "may",    "jun",     "jul",    "aug",  "sep",
                                 "oct", "nov", "dec", "week", "easter", "sunrise", "sunset", "dawn", "dusk"};

bool looks_like_time(const std::string& lower) {
    if (lower.empty())
        return false;
    const bool clock = lower.front() >= '0' && lower.front() <= '9' && lower.find(':') != std::string::npos;
    const bool year = lower.size() >= 4 && (lower.starts_with("20") || lower.starts_with("19"));
    const bool day_of_month = lower.front() >= '0' && lower.front() <= '9' &&
                              std::any_of(time_starts.begin(), time_starts.end(), [&](std::string_view month) {
                                  return lower.find(month) != std::string::npos;
                              });
    return clock || year || day_of_month ||
           std::any_of(time_starts.begin(), time_starts.end(), [&](std::string_view start) {
               // "we" is Wednesday, "weight" is not.
               const char next = lower.size() > start.size() ? lower[start.size()] : ' ';
               return lower.starts_with(start) && !(next >= 'a' && next <= 'z');
           });
}

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

Truth judge_one(std::string_view condition, const Vehicle& vehicle) {
    const std::string lower = lower_case(trimmed(condition));
    if (lower == "24/7")
        return Truth::yes;
    if (std::find(known_words.begin(), known_words.end(), lower) != known_words.end())
        return Truth::unknown;
    if (looks_like_time(lower))
        return Truth::unknown;
    const std::size_t sign = lower.find_first_of("<>=");
    if (sign == std::string::npos || sign == 0)
        return Truth::unreadable;
    const std::size_t after = lower.find_first_not_of("<>=", sign);
    if (after == std::string::npos)
        return Truth::unreadable;
    const std::string_view view = lower;
    return compare(trimmed(view.substr(0, sign)), view.substr(sign, after - sign), view.substr(after), vehicle);
}

/// All parts of "A AND B" must hold.
Truth judge(std::string_view condition, const Vehicle& vehicle) {
    condition = trimmed(condition);
    if (condition.size() >= 2 && condition.front() == '(' && condition.back() == ')')
        condition = trimmed(condition.substr(1, condition.size() - 2));
    if (condition.empty() ||
        std::count(condition.begin(), condition.end(), '(') != std::count(condition.begin(), condition.end(), ')'))
        return Truth::unreadable;
    const std::string upper_and = " and ";
    const std::string lower = lower_case(condition);
    Truth all = Truth::yes;
    for (std::size_t begin = 0; begin <= lower.size();) {
        const std::size_t end = std::min(lower.find(upper_and, begin), lower.size());
        const Truth one = judge_one(std::string_view{lower}.substr(begin, end - begin), vehicle);
        if (one == Truth::unreadable)
            return one;
        if (one == Truth::no || (one == Truth::unknown && all == Truth::yes))
            all = one;
        begin = end + upper_and.size();
    }
    return all;
}

} // namespace

std::vector<ConditionalClause> read_conditional(std::string_view text, const Vehicle& vehicle) {
    std::vector<ConditionalClause> clauses;
    for (const std::string_view clause : split_list(text, ";")) {
        const std::size_t at = clause.find('@');
        if (at == std::string_view::npos) {
            clauses.push_back({clause, Truth::unreadable});
            continue;
        }
        const std::string_view value = trimmed(clause.substr(0, at));
        clauses.push_back({value, value.empty() ? Truth::unreadable : judge(clause.substr(at + 1), vehicle)});
    }
    if (clauses.empty())
        clauses.push_back({trimmed(text), Truth::unreadable});
    return clauses;
}

} // namespace routing::roads
