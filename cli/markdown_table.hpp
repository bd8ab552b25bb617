#pragma once
/// A Markdown table that also lines up as plain text.
///
///     MarkdownTable table({{"Place"}, {"min", Align::right}});
///     table.add_row({escape_markdown(name), "45"});
///     out << table.text();

#include <string>
#include <vector>

namespace cli {

enum class Align { left, right };

struct Column {
    std::string title;
    Align align = Align::left;
};

class MarkdownTable {
public:
    explicit MarkdownTable(std::vector<Column> columns) : columns_(std::move(columns)) {}

    /// A cell for each column, already escaped for Markdown, on one line.
    void add_row(std::vector<std::string> cells);
    bool empty() const { return rows_.empty(); }
    /// Header, rule and rows, each line ended; columns as wide as their widest cell.
    std::string text() const;

private:
    std::vector<Column> columns_;
    std::vector<std::vector<std::string>> rows_;
};

} // namespace cli
