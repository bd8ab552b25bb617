#include "shoot_fixture.hpp"

#include "cli/json_fields.hpp"
#include "cli/json_value.hpp"

#include <doctest/doctest.h>

using fixture::all_faults;
using fixture::has_fault;
using fixture::ShootFixture;
using fixture::sound_shoot;

namespace {

std::vector<geo::InputFault> parse_faults(const std::string& text) {
    cli::Faults faults("x.json");
    try {
        cli::parse_json(text, faults);
        faults.throw_if_any();
    } catch (const geo::InputError& error) {
        return error.faults();
    }
    return {};
}

std::vector<geo::InputFault> file_faults(const std::string& file) {
    try {
        cli::read_text_file(file);
    } catch (const geo::InputError& error) {
        return error.faults();
    }
    return {};
}

} // namespace

TEST_CASE("members keep the order of the file, numbers their spelling") {
    cli::Faults faults("x.json");
    const auto json = cli::parse_json(R"({"b": 1.50, "a": [true, null, "t"]})", faults);
    REQUIRE(json.members.size() == 2);
    CHECK(json.members[0].key == "b");
    CHECK(json.members[0].value.text == "1.50");
    CHECK(json.find("a")->list.size() == 3);
    CHECK(json.find("c") == nullptr);
}

TEST_CASE("syntax errors are told with line and column") {
    CHECK(has_fault(parse_faults("{\n  \"a\": 1\n  \"b\": 2\n}"), "line 3, column 5", "is not JSON here", "comma"));
    CHECK(has_fault(parse_faults("{\"a\": 1"), "line 1, column 8", "is not JSON here", "close what is open"));
    CHECK(has_fault(parse_faults("{\"a\": NaN}"), "line 1, column 7", "is not JSON here"));
    CHECK(has_fault(parse_faults("{\"a\": Infinity}"), "line 1, column 7", "is not JSON here"));
    CHECK(has_fault(parse_faults("{\"a\": 1e999}"), "line 1, column 11", "is not JSON here"));
    CHECK(has_fault(parse_faults("{} {}"), "line 1, column 4", "is not JSON here"));
    CHECK(has_fault(parse_faults("{\"a\": \"\xFF\"}"), "line 1, column 8", "UTF-8"));
}

TEST_CASE("what is no JSON text at all is said so") {
    CHECK(has_fault(parse_faults(""), "", "is empty"));
    CHECK(has_fault(parse_faults(" \n"), "", "is empty"));
    CHECK(has_fault(parse_faults(std::string("\xFF\xFE{\0}\0", 6)), "", "UTF-16", "UTF-8"));
    CHECK(has_fault(parse_faults(std::string("\x1f\x8b\0\0", 4)), "", "is no text file"));
    CHECK_FALSE(parse_faults("\xEF\xBB\xBF").empty());
}

TEST_CASE("a key that stands twice is refused, wherever it stands, and the rest is still read") {
    const auto faults = parse_faults(R"({"a": {"x/y": 1, "x/y": {"z": 2}}, "l": [{}, {"k": 1, "k": 2}], "a": 3})");
    CAPTURE(all_faults(faults));
    CHECK(faults.size() == 3);
    CHECK(has_fault(faults, "/a/x~1y", "stands twice", "keep one"));
    CHECK(has_fault(faults, "/l/1/k", "stands twice"));
    CHECK(has_fault(faults, "/a", "stands twice"));
}

TEST_CASE("nesting without end is refused") {
    CHECK(has_fault(
        parse_faults(std::string(100'000, '[')),
        [] {
            std::string pointer;
            for (std::size_t n = 0; n < cli::json_depth_limit; ++n)
                pointer += "/0";
            return pointer;
        }(),
        "is nested more than"));
    CHECK(parse_faults(std::string(cli::json_depth_limit, '[') + std::string(cli::json_depth_limit, ']')).empty());
}

TEST_CASE("files that can't be read are named") {
    const fixture::TemporaryFolder folder;
    CHECK(has_fault(file_faults((folder.path() / "no.json").string()), "", "does not exist"));
    CHECK(has_fault(file_faults(folder.path().string()), "", "is a folder"));
    const auto big = folder.write("big.json", "");
    std::filesystem::resize_file(big, cli::json_size_limit + 1);
    CHECK(has_fault(file_faults(big.string()), "", "is larger than 16 MiB"));
}

TEST_CASE("beyond a hundred, faults are counted") {
    std::string text = "{";
    for (int n = 0; n < 250; ++n)
        text += (n == 0 ? "\"" : ", \"") + std::string("unknown_") + std::to_string(n) + "\": 1";
    const ShootFixture files;
    const auto faults = files.faults_of_text(text + "}");
    CHECK(faults.size() == 101);
    CHECK(fixture::contains(faults.back().problem, "more faults"));
}

TEST_CASE("control characters of a file do not reach the terminal") {
    const ShootFixture files;
    auto json = sound_shoot();
    json["days"][0]["date"] = "\x1b[2J\nx";
    json["\x1b[31mred"] = 1;
    const std::string text = all_faults(files.faults(json));
    CHECK(text.find('\x1b') == std::string::npos);
    CHECK(fixture::contains(text, "/days/0/date"));
}

TEST_CASE("two thousand random mutations of a sound file end in faults or in a shoot, never otherwise") {
    const ShootFixture files;
    const std::string sound = sound_shoot().dump(1);
    std::mt19937 random(20270514); // NOLINT: one seed, one test
    int read = 0, refused = 0;
    for (int round = 0; round < 2000; ++round) {
        const std::string text = fixture::mutated(sound, random);
        try {
            files.read_text(text);
            ++read;
        } catch (const geo::InputError& error) {
            ++refused;
            if (error.faults().empty())
                FAIL_CHECK("refused without a fault: ", text);
            for (const auto& fault : error.faults()) {
                if (fault.problem.empty() || fault.mend.empty())
                    FAIL_CHECK("a fault without words: ", geo::describe(fault));
            }
        }
    }
    CHECK(read + refused == 2000);
    CHECK(read > 0);
    CHECK(refused > 1000);
}
