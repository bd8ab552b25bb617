#pragma once
/// An opening_hours text cut into words, numbers, signs and comments, with spellings of one sign made one.
///
///     cut("Mo–Fr 08:00+ \"bar\"") // word mo, sign -, word fr, number 8, sign :, number 0, sign +, comment bar

#include "routing/hours/remark.hpp"

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace routing::hours {

struct Token {
    enum class Kind { word, number, sign, comment, end };
    Kind kind = Kind::end;
    std::string text{};       ///< as written; of a comment what is between the quotes
    std::string lower{};      ///< word with ASCII letters in lower case
    int number = 0;           ///< value, at most 9999
    char sign = '\0';         ///< '|' stands for "||"; every dash is '-'
    std::size_t position = 0; ///< first byte in the text
    bool spaced = false;      ///< whether a blank stands before it
    bool plain = true;        ///< whether the sign is written as the specification writes it

    bool is(char wanted) const { return kind == Kind::sign && sign == wanted; }
    bool is_word(std::string_view wanted) const { return kind == Kind::word && lower == wanted; }
    bool is_number() const { return kind == Kind::number; }
};

/// The tokens, with one of kind `end` last. Throws Refusal for a quote that is not closed and for signs no rule has.
std::vector<Token> cut(std::string_view text);

} // namespace routing::hours
