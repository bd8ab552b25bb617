#include "cli/json_fields.hpp"

#include "cli/known_names.hpp"
#include "cli/number_text.hpp"
#include "cli/plain_text.hpp"

#include <algorithm>
#include <cmath>

namespace cli {

namespace {

constexpr std::size_t faults_kept = 100;

std::string kind_in_words(JsonValue::Kind kind) {
    switch (kind) {
    case JsonValue::Kind::null:
        return "is null";
    case JsonValue::Kind::flag:
        return "is true or false";
    case JsonValue::Kind::number:
        return "is a number";
    case JsonValue::Kind::text:
        return "is text";
    case JsonValue::Kind::list:
        return "is a list";
    case JsonValue::Kind::object:
        return "is an object";
    }
    return "";
}

std::string shown_value(const JsonValue& value) {
    switch (value.kind) {
    case JsonValue::Kind::flag:
        return value.flag ? "true" : "false";
    case JsonValue::Kind::number:
    case JsonValue::Kind::text:
        return shown(value.text);
    default:
        return "";
    }
}

std::string range_in_words(const std::string& low, const std::string& high, std::string_view unit) {
    return low + " to " + high + (unit.empty() ? "" : " " + std::string(unit));
}

} // namespace

void Faults::add(std::string pointer, std::string value, std::string problem, std::string mend) {
    if (faults_.size() < faults_kept)
        faults_.push_back({file_, std::move(pointer), std::move(value), std::move(problem), std::move(mend)});
    else
        ++left_out_;
}

void Faults::throw_if_any() const {
    if (none())
        return;
    std::vector<geo::InputFault> all = faults_;
    if (left_out_ > 0)
        all.push_back({file_, "", "", "has " + std::to_string(left_out_) + " more faults", "mend these first"});
    throw geo::InputError(std::move(all));
}

std::string pointer_step(std::string_view key) {
    std::string step = "/";
    for (const char c : key) {
        if (c == '~')
            step += "~0";
        else if (c == '/')
            step += "~1";
        else
            step += c;
    }
    return shown(step);
}

void Field::fault(std::string problem, std::string mend) const {
    faults_->add(pointer_, shown_value(*value_), std::move(problem), std::move(mend));
}

void Field::wrong_kind(std::string mend) const {
    fault(kind_in_words(value_->kind), std::move(mend));
}

std::optional<std::string> Field::any_text(std::string_view wanted) const {
    if (is(JsonValue::Kind::text))
        return value_->text;
    wrong_kind(std::string(wanted));
    return std::nullopt;
}

std::optional<std::string> Field::text(std::string_view wanted) const {
    const auto found = any_text(wanted);
    if (found && found->find_first_not_of(" \t\r\n") == std::string::npos) {
        fault("is empty", std::string(wanted));
        return std::nullopt;
    }
    return found;
}

std::optional<double> Field::number(double low, double high, std::string_view unit) const {
    const std::string wanted = "give a number, " + range_in_words(number_text(low), number_text(high), unit);
    if (!is(JsonValue::Kind::number)) {
        wrong_kind(wanted);
        return std::nullopt;
    }
    if (!(value_->number >= low && value_->number <= high)) {
        fault("is out of range", wanted);
        return std::nullopt;
    }
    return value_->number;
}

std::optional<std::int64_t> Field::whole(std::int64_t low, std::int64_t high, std::string_view unit) const {
    const std::string wanted =
        "give a whole number, " + range_in_words(std::to_string(low), std::to_string(high), unit);
    if (!is(JsonValue::Kind::number)) {
        wrong_kind(wanted);
        return std::nullopt;
    }
    if (!(value_->number >= static_cast<double>(low) && value_->number <= static_cast<double>(high))) {
        fault("is out of range", wanted);
        return std::nullopt;
    }
    if (std::trunc(value_->number) != value_->number) {
        fault("is no whole number", wanted);
        return std::nullopt;
    }
    return static_cast<std::int64_t>(value_->number);
}

std::optional<bool> Field::flag() const {
    if (is(JsonValue::Kind::flag))
        return value_->flag;
    wrong_kind("write true or false, without quotes");
    return std::nullopt;
}

std::optional<std::vector<Field>> Field::list(std::string_view of) const {
    if (!is(JsonValue::Kind::list)) {
        wrong_kind("give a list of " + std::string(of) + " in [ ]");
        return std::nullopt;
    }
    std::vector<Field> items;
    items.reserve(value_->list.size());
    for (const JsonValue& item : value_->list)
        items.emplace_back(item, pointer_ + "/" + std::to_string(items.size()), *faults_);
    return items;
}

std::optional<std::vector<Field>> Field::filled_list(std::string_view of) const {
    auto items = list(of);
    if (items && items->empty()) {
        fault("is an empty list", "give at least one of the " + std::string(of));
        return std::nullopt;
    }
    return items;
}

Members Field::object(std::initializer_list<std::string_view> known, std::span<const LaterKey> later) const {
    return object(std::span<const std::string_view>(known.begin(), known.size()), later);
}

Members Field::object(std::span<const std::string_view> known, std::span<const LaterKey> later) const {
    if (!is(JsonValue::Kind::object)) {
        wrong_kind("give an object in { }");
        return {*this, false};
    }
    for (const JsonMember& member : value_->members) {
        if (std::find(known.begin(), known.end(), member.key) != known.end())
            continue;
        const std::string where = pointer_ + pointer_step(member.key);
        const auto planned =
            std::find_if(later.begin(), later.end(), [&](const LaterKey& key) { return key.key == member.key; });
        if (planned != later.end()) {
            faults_->add(where, "", "is not supported by this version", std::string(planned->mend));
            continue;
        }
        faults_->add(where, "", "is no key known here",
                     offer_names(member.key, std::vector<std::string>(known.begin(), known.end()), "key"));
    }
    return {*this, true};
}

std::optional<Field> Members::find(std::string_view key) const {
    if (!real_)
        return std::nullopt;
    const JsonValue* found = field_.value().find(key);
    if (found == nullptr)
        return std::nullopt;
    return Field(*found, field_.pointer() + pointer_step(key), field_.faults());
}

std::optional<Field> Members::need(std::string_view key, std::string mend) const {
    auto found = find(key);
    if (!found && real_)
        field_.faults().add(field_.pointer() + pointer_step(key), "", "is missing", std::move(mend));
    return found;
}

} // namespace cli
