#include "geo/json_text.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <cassert>
#include <charconv>
#include <cmath>
#include <stdexcept>

namespace geo {

namespace {

using nlohmann::ordered_json;

std::string number_text(double value) {
    if (!std::isfinite(value))
        throw std::domain_error("JSON has no number for NaN or infinity");
    const double size = std::abs(value);
    const bool spelt_out = size == 0.0 || (size >= 1e-9 && size < 1e15);
    std::array<char, 64> text{};
    const auto [end, error] = std::to_chars(text.data(), text.data() + text.size(), value,
                                            spelt_out ? std::chars_format::fixed : std::chars_format::scientific);
    assert(error == std::errc{});
    std::string shown(text.data(), end);
    // Whole numbers keep their kind when read back.
    if (shown.find_first_of(".e") == std::string::npos)
        shown += ".0";
    return shown;
}

/// A position, a box: short enough for one line.
bool is_list_of_scalars(const ordered_json& value) {
    return value.is_array() &&
           std::all_of(value.begin(), value.end(), [](const ordered_json& item) { return item.is_primitive(); });
}

void append(std::string& text, const ordered_json& value, std::size_t depth) {
    const auto start_line = [&](std::size_t indent) {
        text += '\n';
        text.append(2 * indent, ' ');
    };
    if (value.is_number_float()) {
        text += number_text(value.get<double>());
    } else if (value.is_object() && !value.empty()) {
        text += '{';
        for (auto member = value.begin(); member != value.end(); ++member) {
            text += member == value.begin() ? "" : ",";
            start_line(depth + 1);
            text += ordered_json(member.key()).dump() + ": ";
            append(text, member.value(), depth + 1);
        }
        start_line(depth);
        text += '}';
    } else if (value.is_array() && !value.empty()) {
        const bool one_line = is_list_of_scalars(value);
        text += '[';
        bool first = true;
        for (const ordered_json& item : value) {
            text += first ? "" : (one_line ? ", " : ",");
            first = false;
            if (!one_line)
                start_line(depth + 1);
            append(text, item, depth + 1);
        }
        if (!one_line)
            start_line(depth);
        text += ']';
    } else {
        // Strings, whole numbers, true, false, null, {} and []; bytes that are no UTF-8 become U+FFFD.
        text += value.dump(-1, ' ', false, ordered_json::error_handler_t::replace);
    }
}

} // namespace

std::string json_text(const ordered_json& document) {
    std::string text;
    append(text, document, 0);
    text += '\n';
    return text;
}

} // namespace geo
