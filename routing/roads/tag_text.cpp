#include "routing/roads/tag_text.hpp"

namespace routing::roads {
namespace {
bool is_digit(char c) {
    return c >= '0' && c <= '9';
}
bool is_blank(char c) {
    return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}
} // namespace

std::string_view trimmed(std::string_view text) {
    while (!text.empty() && is_blank(text.front()))
        text.remove_prefix(1);
    while (!text.empty() && is_blank(text.back()))
        text.remove_suffix(1);
    return text;
}

std::string lower_case(std::string_view text) {
    std::string lower{text};
    for (char& c : lower)
        if (c >= 'A' && c <= 'Z')
            c = static_cast<char>(c - 'A' + 'a');
    return lower;
}

std::vector<std::string_view> split_list(std::string_view text, std::string_view separators) {
    std::vector<std::string_view> items;
    std::size_t begin = 0;
    int depth = 0;
    for (std::size_t i = 0; i <= text.size(); ++i) {
        if (i < text.size()) {
            depth += text[i] == '(' ? 1 : text[i] == ')' && depth > 0 ? -1 : 0;
            if (depth > 0 || separators.find(text[i]) == std::string_view::npos)
                continue;
        }
        const std::string_view item = trimmed(text.substr(begin, i - begin));
        if (!item.empty())
            items.push_back(item);
        begin = i + 1;
    }
    return items;
}

std::optional<LeadingNumber> leading_number(std::string_view text) {
    text = trimmed(text);
    double value = 0.0;
    double place = 1.0;
    bool digits = false;
    bool fraction = false;
    std::size_t i = 0;
    for (; i < text.size(); ++i) {
        if (is_digit(text[i])) {
            digits = true;
            const double digit = text[i] - '0';
            if (fraction)
                value += digit * (place /= 10.0);
            else
                value = value * 10.0 + digit;
        } else if ((text[i] == '.' || text[i] == ',') && !fraction && i + 1 < text.size() && is_digit(text[i + 1])) {
            fraction = true;
        } else {
            break;
        }
    }
    if (!digits)
        return std::nullopt;
    return LeadingNumber{value, trimmed(text.substr(i))};
}

} // namespace routing::roads
