#pragma once
/// Reads the small comma-separated oracle files: first line names the columns, fields may stand in double quotes,
/// lines starting with # are notes.

#include <filesystem>
#include <fstream>
#include <map>
#include <string>
#include <vector>

namespace support {

using CsvRow = std::map<std::string, std::string>;

inline std::vector<std::string> csv_fields(const std::string& line) {
    std::vector<std::string> fields(1);
    bool quoted = false;
    for (const char letter : line) {
        if (letter == '"')
            quoted = !quoted;
        else if (letter == ',' && !quoted)
            fields.emplace_back();
        else if (letter != '\r')
            fields.back() += letter;
    }
    return fields;
}

inline std::vector<CsvRow> read_csv(const std::filesystem::path& file) {
    std::ifstream input(file);
    std::vector<std::string> names;
    std::vector<CsvRow> rows;
    for (std::string line; std::getline(input, line);) {
        if (line.empty() || line.front() == '#')
            continue;
        const auto fields = csv_fields(line);
        if (names.empty()) {
            names = fields;
            continue;
        }
        CsvRow row;
        for (std::size_t i = 0; i < names.size() && i < fields.size(); ++i)
            row[names[i]] = fields[i];
        rows.push_back(row);
    }
    return rows;
}

} // namespace support
