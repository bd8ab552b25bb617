#include "routing/roads/road_name.hpp"

#include "geo/nearest_name.hpp"

#include <algorithm>
#include <array>
#include <cstdint>
#include <numeric>
#include <optional>

namespace routing::roads {

namespace {

/// Base letters of U+00DF to U+017F, the small letters of Latin-1 and Extended-A (capitals are never asked for).
constexpr std::uint32_t first_base_letter = 0xDF;
constexpr std::array<std::string_view, 161> base_letters = {
    "ss", "a", "a", "a", "a", "a", "a", "ae", "c", "e", "e",  "e",  "e", "i", "i", "i", "i", "d", "n", "o", "o",
    "o",  "o", "o", "",  "o", "u", "u", "u",  "u", "y", "th", "y",  "a", "a", "a", "a", "a", "a", "c", "c", "c",
    "c",  "c", "c", "c", "c", "d", "d", "d",  "d", "e", "e",  "e",  "e", "e", "e", "e", "e", "e", "e", "g", "g",
    "g",  "g", "g", "g", "g", "g", "h", "h",  "h", "h", "i",  "i",  "i", "i", "i", "i", "i", "i", "i", "i", "ij",
    "ij", "j", "j", "k", "k", "k", "l", "l",  "l", "l", "l",  "l",  "l", "l", "l", "l", "n", "n", "n", "n", "n",
    "n",  "n", "n", "n", "o", "o", "o", "o",  "o", "o", "oe", "oe", "r", "r", "r", "r", "r", "r", "s", "s", "s",
    "s",  "s", "s", "s", "s", "t", "t", "t",  "t", "t", "t",  "u",  "u", "u", "u", "u", "u", "u", "u", "u", "u",
    "u",  "u", "w", "w", "y", "y", "y", "z",  "z", "z", "z",  "z",  "z", "s"};

struct Letter {
    std::uint32_t code = 0;
    std::size_t bytes = 1;
};

/// The letter `text` begins with when it takes one or two bytes of UTF-8 (RFC 3629), or three of the punctuation block;
/// nothing for other bytes, which are passed on unchanged.
std::optional<Letter> first_letter(std::string_view text) {
    const auto byte = [&](std::size_t i) { return static_cast<std::uint32_t>(static_cast<unsigned char>(text[i])); };
    const auto continues = [&](std::size_t i) { return i < text.size() && (byte(i) & 0xC0U) == 0x80U; };
    if (byte(0) < 0x80)
        return Letter{byte(0), 1};
    if (byte(0) >= 0xC2 && byte(0) < 0xE0 && continues(1))
        return Letter{((byte(0) & 0x1FU) << 6) | (byte(1) & 0x3FU), 2};
    if (byte(0) == 0xE2 && continues(1) && continues(2))
        return Letter{0x2000U | ((byte(1) & 0x3FU) << 6) | (byte(2) & 0x3FU), 3};
    return std::nullopt;
}

void append_letter(std::string& text, std::uint32_t code) {
    if (code < 0x80) {
        text += static_cast<char>(code);
    } else if (code < 0x800) {
        text += static_cast<char>(0xC0U | (code >> 6));
        text += static_cast<char>(0x80U | (code & 0x3FU));
    } else {
        text += static_cast<char>(0xE0U | (code >> 12));
        text += static_cast<char>(0x80U | ((code >> 6) & 0x3FU));
        text += static_cast<char>(0x80U | (code & 0x3FU));
    }
}

constexpr bool between(std::uint32_t code, std::uint32_t low, std::uint32_t high) {
    return code >= low && code <= high;
}

std::uint32_t lower_letter(std::uint32_t code) {
    const bool odd = code % 2 == 1;
    if (between(code, 'A', 'Z') || (between(code, 0xC0, 0xDE) && code != 0xD7))
        return code + 32;
    if (code == 0x130) // dotted capital I
        return 'i';
    if (code == 0x178)
        return 0xFF;
    if (between(code, 0x100, 0x137) || between(code, 0x14A, 0x177) || between(code, 0x218, 0x21B))
        return odd ? code : code + 1;
    if (between(code, 0x139, 0x148) || between(code, 0x179, 0x17E))
        return odd ? code + 1 : code;
    if (code == 0x386)
        return 0x3AC;
    if (between(code, 0x388, 0x38A))
        return code + 37;
    if (code == 0x38C)
        return 0x3CC;
    if (between(code, 0x38E, 0x38F))
        return code + 63;
    if ((between(code, 0x391, 0x3AB) && code != 0x3A2) || between(code, 0x410, 0x42F))
        return code + 32;
    if (between(code, 0x400, 0x40F))
        return code + 80;
    return code;
}

bool is_blank(std::uint32_t code) {
    return code == ' ' || between(code, '\t', '\r') || code == 0xA0;
}

/// Runs `each` over the letters and passes other bytes on; white space is made single blanks.
template <class Each>
std::string rewrite(std::string_view text, Each each) {
    std::string result;
    bool blank = false;
    while (!text.empty()) {
        const auto letter = first_letter(text);
        if (letter && is_blank(letter->code)) {
            blank = true;
        } else {
            if (blank && !result.empty())
                result += ' ';
            blank = false;
            if (letter)
                each(result, letter->code);
            else
                result += text.front();
        }
        text.remove_prefix(letter ? letter->bytes : 1);
    }
    return result;
}

void append_part(std::vector<std::string>& parts, std::string_view part) {
    const auto begin = part.find_first_not_of(' ');
    if (begin == std::string_view::npos)
        return;
    part = part.substr(begin, part.find_last_not_of(' ') - begin + 1);
    if (std::find(parts.begin(), parts.end(), part) == parts.end())
        parts.emplace_back(part);
}

void append_items(std::vector<std::string>& parts, std::string_view list) {
    append_part(parts, list);
    for (std::size_t begin = 0; begin <= list.size();) {
        const std::size_t end = std::min(list.find(';', begin), list.size());
        append_part(parts, list.substr(begin, end - begin));
        begin = end + 1;
    }
}

} // namespace

std::string fold_case(std::string_view text) {
    return rewrite(text, [](std::string& to, std::uint32_t code) { append_letter(to, lower_letter(code)); });
}

std::string without_accents(std::string_view text) {
    return rewrite(text, [](std::string& to, std::uint32_t code) {
        code = lower_letter(code);
        if (between(code, first_base_letter, first_base_letter + base_letters.size() - 1))
            to += base_letters[code - first_base_letter];
        else if (code == 0x219 || code == 0x21B)
            to += code == 0x219 ? 's' : 't';
        else if (code == 0x2018 || code == 0x2019) // typographic apostrophes
            to += '\'';
        else if (between(code, 0x2010, 0x2014)) // hyphens and dashes
            to += '-';
        else if (!between(code, 0x300, 0x36F)) // combining accents
            append_letter(to, code);
    });
}

std::string without_marks(std::string_view text) {
    std::string bare = without_accents(text);
    bare.erase(
        std::remove_if(bare.begin(), bare.end(), [](char c) { return c == ' ' || c == '-' || c == '.' || c == '\''; }),
        bare.end());
    return bare;
}

std::vector<std::string> name_parts(std::string_view mapped) {
    std::vector<std::string> parts;
    append_part(parts, mapped);
    const std::size_t open = mapped.rfind(" (");
    if (open != std::string_view::npos && open > 0 && mapped.back() == ')') {
        append_items(parts, mapped.substr(0, open));
        append_items(parts, mapped.substr(open + 2, mapped.size() - open - 3));
    } else {
        append_items(parts, mapped);
    }
    return parts;
}

RoadName::RoadName(std::string_view text)
    : lower_(fold_case(text)), plain_(without_accents(text)), bare_(without_marks(text)) {}

NameMatch RoadName::matches(std::string_view mapped) const {
    if (lower_.empty())
        return NameMatch::no;
    NameMatch best = NameMatch::no;
    for (const std::string& part : name_parts(mapped)) {
        if (fold_case(part) == lower_)
            return NameMatch::exact;
        if (without_accents(part) == plain_)
            best = NameMatch::without_accents;
        else if (!bare_.empty() && without_marks(part) == bare_)
            best = std::max(best, NameMatch::without_marks);
    }
    return best;
}

std::size_t RoadName::edits_to(std::string_view mapped) const {
    std::size_t fewest = std::max(plain_.size(), mapped.size());
    for (const std::string& part : name_parts(mapped))
        fewest = std::min(fewest, geo::edit_distance(plain_, without_accents(part)));
    return fewest;
}

} // namespace routing::roads
