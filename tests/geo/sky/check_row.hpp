#pragma once
/// A row of the optional check file, by column.

#include "geo/coordinate.hpp"
#include "tests/geo/csv.hpp"
#include "tests/geo/utc.hpp"

#include <doctest/doctest.h>

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

} // namespace support
