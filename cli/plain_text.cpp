#include "cli/plain_text.hpp"

#include <array>
#include <cstdint>

namespace cli {

namespace {

constexpr char32_t replacement = 0xFFFD;

/// Takes one character off the front; U+FFFD for a byte that starts no valid sequence (RFC 3629).
char32_t take_character(std::string_view& text) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const unsigned char lead = byte(0);
    std::size_t length = 1;
    char32_t character = lead;
    if (lead >= 0xF0 && lead <= 0xF4) {
        length = 4;
        character = lead & 0x07U;
    } else if (lead >= 0xE0 && lead <= 0xEF) {
        length = 3;
        character = lead & 0x0FU;
    } else if (lead >= 0xC2 && lead <= 0xDF) {
        length = 2;
        character = lead & 0x1FU;
    } else if (lead >= 0x80) {
        text.remove_prefix(1);
        return replacement;
    }
    for (std::size_t i = 1; i < length; ++i) {
        if (i >= text.size() || (byte(i) & 0xC0U) != 0x80U) {
            text.remove_prefix(1);
            return replacement;
        }
        character = (character << 6U) | (byte(i) & 0x3FU);
    }
    const bool overlong = (length == 3 && character < 0x800) || (length == 4 && character < 0x10000);
    if (overlong || character > 0x10FFFF || (character >= 0xD800 && character <= 0xDFFF)) {
        text.remove_prefix(1);
        return replacement;
    }
    text.remove_prefix(length);
    return character;
}

void append(std::string& text, char32_t c) {
    if (c < 0x80) {
        text += static_cast<char>(c);
    } else if (c < 0x800) {
        text += static_cast<char>(0xC0U | (c >> 6U));
        text += static_cast<char>(0x80U | (c & 0x3FU));
    } else if (c < 0x10000) {
        text += static_cast<char>(0xE0U | (c >> 12U));
        text += static_cast<char>(0x80U | ((c >> 6U) & 0x3FU));
        text += static_cast<char>(0x80U | (c & 0x3FU));
    } else {
        text += static_cast<char>(0xF0U | (c >> 18U));
        text += static_cast<char>(0x80U | ((c >> 12U) & 0x3FU));
        text += static_cast<char>(0x80U | ((c >> 6U) & 0x3FU));
        text += static_cast<char>(0x80U | (c & 0x3FU));
    }
}

struct Range {
    char32_t first, last;
};

template <std::size_t n>
bool inside(const std::array<Range, n>& ranges, char32_t c) {
    for (const Range& range : ranges) {
        if (c >= range.first && c <= range.last)
            return true;
    }
    return false;
}

bool is_control(char32_t c) {
    return c < 0x20 || (c >= 0x7F && c <= 0x9F) || c == 0x2028 || c == 0x2029;
}

bool turns_direction(char32_t c) {
    return c == 0x200E || c == 0x200F || c == 0x061C || (c >= 0x202A && c <= 0x202E) || (c >= 0x2066 && c <= 0x2069);
}

std::size_t width_of(char32_t c) {
    static constexpr std::array<Range, 9> none{{{0x0300, 0x036F},
                                                {0x0483, 0x0489},
                                                {0x0591, 0x05BD},
                                                {0x064B, 0x065F},
                                                {0x0E34, 0x0E3A},
                                                {0x200B, 0x200D},
                                                {0x20D0, 0x20F0},
                                                {0xFE00, 0xFE0F},
                                                {0xFEFF, 0xFEFF}}};
    static constexpr std::array<Range, 11> wide{{{0x1100, 0x115F},
                                                 {0x2E80, 0x303E},
                                                 {0x3041, 0x33FF},
                                                 {0x3400, 0x4DBF},
                                                 {0x4E00, 0x9FFF},
                                                 {0xA000, 0xA4CF},
                                                 {0xAC00, 0xD7A3},
                                                 {0xF900, 0xFAFF},
                                                 {0xFE30, 0xFE6F},
                                                 {0xFF00, 0xFF60},
                                                 {0x1F300, 0x1FAFF}}};
    if (inside(none, c))
        return 0;
    return inside(wide, c) || (c >= 0x20000 && c <= 0x3FFFD) ? 2 : 1;
}

bool is_ascii_letter_or_digit(char c) {
    return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

/// A number and a dot or bracket at the start would open an ordered list: the place of that dot, or npos.
std::size_t list_marker(std::string_view text) {
    const std::size_t digits = text.find_first_not_of("0123456789");
    if (digits == 0 || digits == std::string_view::npos || (text[digits] != '.' && text[digits] != ')'))
        return std::string_view::npos;
    return digits;
}

} // namespace

std::string one_line(std::string_view text) {
    std::string line;
    line.reserve(text.size());
    while (!text.empty()) {
        const char32_t c = take_character(text);
        if (turns_direction(c))
            continue;
        if (!is_control(c) && c != U' ')
            append(line, c);
        else if (!line.empty() && line.back() != ' ')
            line += ' ';
    }
    if (!line.empty() && line.back() == ' ')
        line.pop_back();
    return line;
}

std::string shown(std::string_view text) {
    constexpr std::size_t longest = 60;
    const std::string line = one_line(text.substr(0, 4 * longest + 4)); // at most four bytes a character
    std::string short_line;
    std::string_view rest = line;
    for (std::size_t i = 0; i < longest && !rest.empty(); ++i)
        append(short_line, take_character(rest));
    return rest.empty() && text.size() <= 4 * longest + 4 ? short_line : short_line + "...";
}

std::string escape_markdown(std::string_view text) {
    static constexpr std::string_view anywhere = "\\`*_[]<|~";
    static constexpr std::string_view at_start = "#>+-=";
    const std::string line = one_line(text);
    const std::size_t marker = list_marker(line);
    std::string escaped;
    for (std::size_t i = 0; i < line.size(); ++i) {
        const char c = line[i];
        const bool entity =
            c == '&' && i + 1 < line.size() && (is_ascii_letter_or_digit(line[i + 1]) || line[i + 1] == '#');
        const bool heading_end = c == '#' && i > 0 && line[i - 1] == ' ';
        if (anywhere.find(c) != std::string_view::npos || (i == 0 && at_start.find(c) != std::string_view::npos) ||
            i == marker || entity || heading_end)
            escaped += '\\';
        escaped += c;
    }
    return escaped;
}

std::size_t display_width(std::string_view text) {
    std::size_t width = 0;
    while (!text.empty())
        width += width_of(take_character(text));
    return width;
}

std::string padded(std::string_view text, std::size_t width) {
    std::string filled(text);
    const std::size_t taken = display_width(text);
    filled.append(taken < width ? width - taken : 0, ' ');
    return filled;
}

} // namespace cli
