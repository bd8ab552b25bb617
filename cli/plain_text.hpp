#pragma once
/// Text from maps and files made safe to show: on a terminal, in a table, in Markdown. All text is UTF-8.
///
///     "| " + padded(escape_markdown(place.name), 20) + " |"

#include <string>
#include <string_view>

namespace cli {

/// On one line and harmless: control characters, line and paragraph separators become a space, characters that turn the
/// writing direction are left out, bytes that are no UTF-8 become U+FFFD; spaces at both ends go, runs become one.
std::string one_line(std::string_view text);

/// `one_line` shortened to 60 characters: a value in a message.
std::string shown(std::string_view text);

/// `one_line` with what Markdown (CommonMark, with tables) would read as markup escaped by a backslash.
std::string escape_markdown(std::string_view text);

/// Columns the text takes on a terminal: 0 for combining marks, 2 for East Asian wide characters and emoji, else 1.
/// Main blocks of Unicode's EastAsianWidth.txt (UAX #11), from memory.
std::size_t display_width(std::string_view text);

/// Filled with spaces up to `width` columns.
std::string padded(std::string_view text, std::size_t width);

} // namespace cli
