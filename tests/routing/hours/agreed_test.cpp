/// Keeps what was once found equal to an independent program (docs/opening_hours_differences.md).

#include "tests/routing/hours/agreed.hpp"
#include "tests/support/shared_data.hpp"

#include <doctest/doctest.h>

#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

using namespace std::chrono;
using routing::hours::read_hours;
using routing::hours::Site;

namespace {

struct Agreed {
    Site site;
    std::map<std::string, std::string> digests; ///< of a value to that of its spans
};

std::vector<Agreed> read_agreed() {
    std::ifstream lines(DAYWEAVE_SOURCE_DIR "/tests/data/opening_hours_agreed.txt");
    std::vector<Agreed> all;
    for (std::string line; std::getline(lines, line);) {
        std::istringstream words(line);
        std::string first;
        std::string second;
        words >> first >> second;
        if (first == "#") {
            continue;
        } else if (first == "zone") {
            double latitude = 0.0;
            double longitude = 0.0;
            std::string from;
            std::string until;
            words >> latitude >> longitude >> from >> until;
            all.push_back({.site = {.at = {geo::Degrees{latitude}, geo::Degrees{longitude}},
                                    .zone = geo::find_time_zone(second).value(),
                                    .holidays = {}},
                           .digests = {}});
            all.back().site.holidays.known_from = geo::parse_date(from).value();
            all.back().site.holidays.known_until = geo::parse_date(until).value();
        } else if (first == "holiday") {
            all.back().site.holidays.public_days.push_back({geo::parse_date(second).value(), ""});
        } else {
            all.back().digests[first] = second;
        }
    }
    return all;
}

std::vector<std::string> values_of(const std::filesystem::path& file) {
    std::ifstream lines(file);
    std::vector<std::string> values;
    for (std::string line; std::getline(lines, line);)
        if (!line.empty() && line.front() != '#')
            values.push_back(line.substr(line.rfind('\t') + 1));
    return values;
}

/// How many of the values stand in the table, each checked.
std::size_t check_values(const std::vector<std::string>& values, const Agreed& agreed) {
    const geo::Interval span{geo::instant_of(2025y / January / 1, 0s, agreed.site.zone),
                             geo::instant_of(2028y / January / 1, 0s, agreed.site.zone)};
    std::size_t found = 0;
    for (const std::string& value : values) {
        const auto known = agreed.digests.find(hours_test::hex(hours_test::digest(value)));
        if (known == agreed.digests.end())
            continue;
        ++found;
        const auto spans = hours_test::spans_of(read_hours(value).intervals(span, agreed.site));
        CHECK_MESSAGE(hours_test::hex(hours_test::digest(spans)) == known->second,
                      value << " in " << agreed.site.zone.name());
    }
    return found;
}

} // namespace

TEST_CASE("the digest is the published one") {
    // Test vectors of draft-eastlake-fnv, 64-bit FNV-1a: "" and "a".
    CHECK(hours_test::hex(hours_test::digest("")) == "cbf29ce484222325");
    CHECK(hours_test::hex(hours_test::digest("a")) == "af63dc4c8601ec8c");
}

TEST_CASE("values once judged alike by an independent program are judged so still, in three zones") {
    const auto all = read_agreed();
    REQUIRE(all.size() == 3);
    for (const Agreed& agreed : all)
        CHECK(check_values(values_of(DAYWEAVE_SOURCE_DIR "/tests/oracles/opening_hours/made_values.txt"), agreed) >=
              70);
    const auto file = support::shared_data("opening_hours_values.txt");
    if (!file)
        return;
    for (const Agreed& agreed : all)
        CHECK(check_values(values_of(*file), agreed) >= 700);
}
