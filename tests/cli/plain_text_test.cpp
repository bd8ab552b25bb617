#include "cli/known_names.hpp"
#include "cli/markdown_table.hpp"
#include "cli/number_text.hpp"
#include "cli/plain_text.hpp"
#include "cli/progress_line.hpp"

#include <doctest/doctest.h>

using namespace cli;
using namespace geo::literals;
using namespace std::chrono_literals;

TEST_CASE("text from a map becomes one harmless line") {
    CHECK(one_line("  Old\tMill\r\nRoad ") == "Old Mill Road");
    CHECK(one_line("red\x1b[31m") == "red [31m");
    CHECK(one_line("a\xE2\x80\xAE"
                   "b") == "ab"); // right-to-left override
    CHECK(one_line("a\xE2\x80\xA8"
                   "b") == "a b"); // line separator
    CHECK(one_line("Stra\xDF"
                   "e") == "Stra\xEF\xBF\xBD"
                           "e");                               // Latin-1
    CHECK(one_line("\xC0\xAF") == "\xEF\xBF\xBD\xEF\xBF\xBD"); // overlong
    CHECK(one_line("Tórshavn 東京") == "Tórshavn 東京");
}

TEST_CASE("a line of progress fits a terminal and tells the time left once it can") {
    CHECK(progress_text("roads", 0.0, 1.0) == "roads [....................]   0 %");
    CHECK(progress_text("roads", 0.25, 3.0) == "roads [#####...............]  25 %, about 9 s left");
    CHECK(progress_text("done", 1.0, 9.0) == "done [####################] 100 %");
    // Cut at its front, between characters: the last 22 bytes begin inside the o with an accent.
    CHECK(progress_text("reading /maps/T\xC3\xB3rshavn-norths.osm.pbf", 0.0, 1.0) ==
          "...rshavn-norths.osm.pbf [....................]   0 %");
    CHECK(progress_text(std::string(300, 'x'), 0.11, 99'999.0).size() < 80);
}

TEST_CASE("what Markdown would read as markup is escaped, and only that") {
    CHECK(escape_markdown("A|B") == "A\\|B");
    CHECK(escape_markdown("`x` *y* _z_ [l](u) <b>") == "\\`x\\` \\*y\\* \\_z\\_ \\[l\\](u) \\<b>");
    CHECK(escape_markdown("a\\b") == "a\\\\b");
    CHECK(escape_markdown("# head") == "\\# head");
    CHECK(escape_markdown("- item") == "\\- item");
    CHECK(escape_markdown("1. first") == "1\\. first");
    CHECK(escape_markdown("1.5 km") == "1\\.5 km");
    CHECK(escape_markdown("Bed & Breakfast") == "Bed & Breakfast");
    CHECK(escape_markdown("&lt;") == "\\&lt;");
    CHECK(escape_markdown("Café No. 5, B-12 (A1)") == "Café No. 5, B-12 (A1)");
    CHECK(escape_markdown("two\nlines | here") == "two lines \\| here");
}

TEST_CASE("a value in a message is cut between characters") {
    CHECK(shown("short") == "short");
    std::string sixty;
    for (int n = 0; n < 60; ++n)
        sixty += "é";
    CHECK(shown(sixty) == sixty);
    CHECK(shown(sixty + "é") == sixty + "...");
    CHECK(display_width(shown(std::string(100'000, 'x'))) == 63);
}

TEST_CASE("tables line up by columns on the screen, not by bytes") {
    CHECK(display_width("Mühle") == 5);
    CHECK(display_width("東京") == 4);
    CHECK(display_width("e\xCC\x81") == 1); // combining acute
    MarkdownTable table({{"Place"}, {"min", Align::right}});
    table.add_row({"Mühle", "5"});
    table.add_row({"東京", "120"});
    CHECK(table.text() == "| Place | min |\n"
                          "| ----- | --: |\n"
                          "| Mühle |   5 |\n"
                          "| 東京  | 120 |\n");
}

TEST_CASE("numbers and amounts read the same everywhere") {
    CHECK(number_text(0.1) == "0.1");
    CHECK(number_text(-90.0) == "-90");
    CHECK(fixed_text(-0.04, 1) == "0.0");
    CHECK(fixed_text(1234.5678, 2) == "1234.57");
    CHECK(length_text(0_m) == "0 m");
    CHECK(length_text(994_m) == "990 m");
    CHECK(length_text(995_m) == "1.0 km");
    CHECK(length_text(31240_m) == "31.2 km");
    CHECK(length_text(99949_m) == "99.9 km");
    CHECK(length_text(142400_m) == "142 km");
    CHECK(span_text(46min) == "46 min");
    CHECK(span_text(29s) == "0 min");
    CHECK(span_text(59min + 30s) == "1 h 00");
    CHECK(span_text(65min) == "1 h 05");
    CHECK(span_text(-25min) == "-25 min");
    CHECK(spare_text(59min + 59s) == "59 min");
    CHECK(spare_text(-1s) == "-1 min");
    CHECK(angle_text(-0.44_deg) == "-0.4°");
    CHECK(count_text(1, "day") == "1 day");
    CHECK(count_text(0, "day") == "0 days");
}

TEST_CASE("only whole finite numbers are parsed") {
    CHECK(parse_number("-35.2") == -35.2);
    CHECK(parse_number("+1e3") == 1000.0);
    for (const char* text : {"", "x", "1x", "1,5", "nan", "inf", "1e999", " 1"})
        CHECK_FALSE(parse_number(text).has_value());
}

TEST_CASE("a near name is offered, nonsense is not") {
    const std::vector<std::string> names{"harbour", "arch", "mill"};
    CHECK(meant_name("harbor", names) == "harbour");
    CHECK(meant_name("ARCH", names) == "arch");
    CHECK_FALSE(meant_name("quarry", names).has_value());
    CHECK(offer_names("quarry", names, "location") == "known: harbour, arch, mill");
    CHECK(offer_names("quarry", {}, "location") == "there is no location to name");
}
