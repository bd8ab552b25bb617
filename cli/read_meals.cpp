#include "cli/field_values.hpp"
#include "cli/known_names.hpp"
#include "cli/plain_text.hpp"
#include "cli/read_shoot.hpp"
#include "cli/shoot_parts.hpp"

#include <algorithm>
#include <cmath>

namespace cli {

using routing::places::Need;
using routing::places::PlaceKind;
using routing::shoot::Lodging;
using routing::shoot::MealWhere;
using routing::shoot::MealWish;

namespace {

/// Kinds of places that serve a need, in the order of the enumeration.
std::vector<PlaceKind> kinds_for(Need need) {
    std::vector<PlaceKind> kinds;
    for (int n = 0; n <= static_cast<int>(PlaceKind::pharmacy); ++n) {
        if (routing::places::need_of(static_cast<PlaceKind>(n)) == need)
            kinds.push_back(static_cast<PlaceKind>(n));
    }
    return kinds;
}

std::vector<PlaceKind> read_kinds(const Field& field, Need need) {
    std::vector<std::string> names;
    for (const PlaceKind kind : kinds_for(need))
        names.emplace_back(routing::places::to_string(kind));
    std::vector<PlaceKind> kinds;
    for (const Field& item : field.filled_list("kinds of places").value_or(std::vector<Field>{})) {
        const auto text = item.text("write a kind of place, like \"" + names.front() + "\"");
        if (!text)
            continue;
        const auto kind = routing::places::parse_place_kind(*text);
        if (!kind)
            item.fault("is no kind of place known here", offer_names(*text, names, "kind"));
        else if (routing::places::need_of(*kind) != need)
            item.fault(need == Need::food ? "is no place to eat" : "is no place to sleep",
                       offer_names(*text, names, "kind"));
        else if (std::find(kinds.begin(), kinds.end(), *kind) == kinds.end())
            kinds.push_back(*kind);
    }
    return kinds;
}

MealWish read_meal(const Field& field) {
    const Members members = field.object({"name", "between", "minutes", "where", "within_h_of_call", "kinds"});
    MealWish meal;
    if (const auto name = members.need("name", "say which meal, like \"lunch\""))
        meal.name = name->text("say which meal, like \"lunch\"").value_or("");
    if (const auto length = members.need("minutes", "give the minutes it takes"))
        meal.length = read_minutes(*length, 1, 300).value_or(meal.length);
    if (const auto between = members.need("between", R"(give two times of day, ["11:30", "14:00"])")) {
        if (const auto times = read_clock_pair(*between)) {
            meal.from = times->first;
            meal.until = times->second;
            const auto span =
                meal.until > meal.from ? meal.until - meal.from : meal.until + std::chrono::hours(24) - meal.from;
            if (span < meal.length)
                between->fault("is " + std::to_string(span.count()) + " min long, less than the meal takes, " +
                                   std::to_string(meal.length.count()) + " min",
                               "widen it: the whole meal lies inside");
        }
    }
    if (const auto within = members.find("within_h_of_call")) {
        if (const auto hours = within->number(0.5, 24, "hours"))
            meal.within_of_call = std::chrono::minutes(std::llround(*hours * 60.0));
    }
    if (const auto where = members.find("where")) {
        constexpr const char* mend = R"(write "find", "packed" or {"name": ..., "at": ...})";
        if (where->is(JsonValue::Kind::object)) {
            meal.where = MealWhere::fixed;
            meal.fixed = read_named_point(*where).value_or(meal.fixed);
        } else if (!where->is(JsonValue::Kind::text)) {
            where->wrong_kind(mend);
        } else if (where->value().text == "packed") {
            meal.where = MealWhere::packed;
        } else if (where->value().text != "find") {
            where->fault("is no way to eat", mend);
        }
    }
    const auto kinds = members.find("kinds");
    if (kinds && meal.where != MealWhere::find)
        kinds->fault("only goes with \"where\": \"find\"", "leave it out");
    else if (kinds)
        meal.kinds = read_kinds(*kinds, Need::food);
    else if (meal.where == MealWhere::find) // shops sell food, but no seat and no roof: only when asked for
        meal.kinds = {PlaceKind::restaurant, PlaceKind::cafe, PlaceKind::fast_food, PlaceKind::pub,
                      PlaceKind::food_court};
    return meal;
}

} // namespace

std::vector<MealWish> read_meals(const Field& field) {
    std::vector<MealWish> meals;
    const auto items = field.list("meals").value_or(std::vector<Field>{});
    if (items.size() > meal_limit) {
        field.fault("holds " + std::to_string(items.size()) + " meals a day",
                    "give at most " + std::to_string(meal_limit));
        return {};
    }
    for (const Field& item : items) {
        meals.push_back(read_meal(item));
        const MealWish& meal = meals.back();
        const auto twin = std::find_if(meals.begin(), meals.end() - 1,
                                       [&](const MealWish& other) { return other.name == meal.name; });
        if (!meal.name.empty() && twin != meals.end() - 1)
            item.fault("has the name of another meal, \"" + shown(meal.name) + "\"",
                       "give each meal a name of its own");
    }
    return meals;
}

Lodging read_lodging(const Field& field) {
    const Members members = field.object({"where", "kinds"});
    Lodging lodging;
    if (const auto where = members.need("where", R"(write "find" or {"name": ..., "at": ...})")) {
        if (where->is(JsonValue::Kind::object)) {
            lodging.find = false;
            lodging.fixed = read_named_point(*where).value_or(lodging.fixed);
        } else if (!where->is(JsonValue::Kind::text)) {
            where->wrong_kind(R"(write "find" or {"name": ..., "at": ...})");
        } else if (where->value().text != "find") {
            where->fault("is no way to sleep", R"(write "find" or {"name": ..., "at": ...})");
        }
    }
    const auto kinds = members.find("kinds");
    if (kinds && !lodging.find)
        kinds->fault("only goes with \"where\": \"find\"", "leave it out");
    else if (kinds)
        lodging.kinds = read_kinds(*kinds, Need::bed);
    else if (lodging.find)
        lodging.kinds = {PlaceKind::hotel, PlaceKind::guest_house, PlaceKind::hostel, PlaceKind::motel};
    return lodging;
}

} // namespace cli
