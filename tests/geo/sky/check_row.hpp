#pragma once
/// The optional check file: its rows by column, and held against what we reckon.

#include "geo/coordinate.hpp"
#include "tests/geo/csv.hpp"
#include "tests/geo/utc.hpp"
#include "tests/support/shared_data.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <optional>
#include <string>

namespace support {

/// A row's fields by name, as numbers where they are such.
struct Check {
    const CsvRow& row;

    const std::string& text(const std::string& name) const { return row.at(name); }
    double number(const std::string& name) const { return std::stod(row.at(name)); }
    double expected() const { return number("expected"); }
    geo::Coordinate place() const { return {{number("lat")}, {number("lon")}}; }
    geo::Metres elevation() const { return {number("elevation")}; }
    geo::sky::PreciseInstant when() const { return precise_utc(text("date_utc")); }
    /// From "k=v;k=v".
    std::string input_text(const std::string& name) const {
        const std::string inputs = ";" + text("input") + ";";
        const auto at = inputs.find(";" + name + "=");
        REQUIRE_MESSAGE(at != std::string::npos, name);
        const auto from = at + name.size() + 2;
        return inputs.substr(from, inputs.find(';', from) - from);
    }
    double input(const std::string& name) const { return std::stod(input_text(name)); }
};

/// What a quantity's row is off by, in the row's unit.
using CheckError = std::function<double(const Check&)>;

/// Holds every row of the optional check file whose quantity is in the table against its tolerance, and says how far
/// the worst is off. Gives the number of rows by quantity; nothing when the file is not there.
inline std::optional<std::map<std::string, int>> checked_rows(const std::map<std::string, CheckError>& errors) {
    const auto file = shared_data("light_checks.csv");
    if (!file)
        return std::nullopt;
    std::map<std::string, int> rows;
    std::map<std::string, double> worst;
    for (const auto& row : read_csv(*file)) {
        const auto rule = errors.find(row.at("quantity"));
        if (rule == errors.end())
            continue;
        const Check check{row};
        CAPTURE(check.text("quantity"));
        CAPTURE(check.text("date_utc"));
        CAPTURE(check.text("expected"));
        const double off = rule->second(check);
        CHECK(std::abs(off) <= check.number("tolerance"));
        ++rows[rule->first];
        worst[rule->first] = std::max(worst[rule->first], std::abs(off));
    }
    CHECK(rows.size() == errors.size());
    for (const auto& [quantity, count] : rows)
        MESSAGE(quantity, ": ", count, " rows, worst ", worst[quantity]);
    return rows;
}

} // namespace support
