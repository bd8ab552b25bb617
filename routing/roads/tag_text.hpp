#pragma once
/// Reading the text of tag values: lists, numbers, letter case.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace routing::roads {

/// Without blanks at both ends.
std::string_view trimmed(std::string_view text);
/// ASCII letters only; tag values are English words.
std::string lower_case(std::string_view text);
/// Items between any of `separators`, trimmed; empty items left out. Separators inside ( ) do not count.
std::vector<std::string_view> split_list(std::string_view text, std::string_view separators);

struct LeadingNumber {
    double value = 0.0;
    std::string_view rest; ///< what follows the number, trimmed
};
/// A decimal number at the start, "3.8 m" or "3,8"; no sign, no exponent. Nothing when there is none.
std::optional<LeadingNumber> leading_number(std::string_view text);

} // namespace routing::roads
