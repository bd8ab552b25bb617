#include "cli/markdown_table.hpp"

#include "cli/plain_text.hpp"

#include <algorithm>
#include <cassert>

namespace cli {

void MarkdownTable::add_row(std::vector<std::string> cells) {
    assert(cells.size() == columns_.size());
    rows_.push_back(std::move(cells));
}

std::string MarkdownTable::text() const {
    constexpr std::size_t narrowest = 3; // a rule needs three dashes in some readers
    std::vector<std::size_t> widths;
    for (std::size_t c = 0; c < columns_.size(); ++c) {
        std::size_t width = std::max(narrowest, display_width(columns_[c].title));
        for (const auto& row : rows_)
            width = std::max(width, display_width(row[c]));
        widths.push_back(width);
    }
    const auto cell = [&](std::size_t c, const std::string& content) {
        const std::size_t taken = display_width(content);
        const std::string space(widths[c] > taken ? widths[c] - taken : 0, ' ');
        return columns_[c].align == Align::left ? content + space : space + content;
    };
    std::string text, rule;
    for (std::size_t c = 0; c < columns_.size(); ++c) {
        text += "| " + cell(c, columns_[c].title) + " ";
        const bool right = columns_[c].align == Align::right;
        rule += "| " + std::string(widths[c] - (right ? 1 : 0), '-') + (right ? ":" : "") + " ";
    }
    text += "|\n" + rule + "|\n";
    for (const auto& row : rows_) {
        for (std::size_t c = 0; c < columns_.size(); ++c)
            text += "| " + cell(c, row[c]) + " ";
        text += "|\n";
    }
    return text;
}

} // namespace cli
