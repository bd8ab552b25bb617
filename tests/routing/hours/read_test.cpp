/// What is understood as written, understood with a remark, and refused.

#include "routing/hours/hours.hpp"
#include "tests/support/shared_data.hpp"

#include <doctest/doctest.h>

#include <fstream>
#include <string>
#include <vector>

using routing::hours::Hours;
using routing::hours::read_hours;
using routing::hours::Rule;

namespace {

/// Rules alike but for where they stand in their texts.
bool same_rules(std::string_view a, std::string_view b) {
    auto left = read_hours(a).rules();
    auto right = read_hours(b).rules();
    for (auto* rules : {&left, &right})
        for (Rule& rule : *rules)
            rule.position = 0;
    return !left.empty() && left == right;
}

} // namespace

TEST_CASE("texts in the specification's form are read without a remark") {
    for (const char* text : {"24/7", "Mo-Fr 08:00-12:00,13:00-17:30", "Mo-Fr 08:00-12:00, We 14:00-16:00; PH off",
                             "Jun-Aug: Sa[1] 10:00-sunset", "Mo-Fr 08:00-17:00 || \"by appointment\"",
                             "week 1-53/2 Fr 09:00-12:00", "2025 Dec 24-2026 Jan 02 off", "easter -2 days off",
                             "(sunrise+01:00)-(sunset-01:00)", "SH Mo-Fr 10:00-16:00", "PH -1 day 10:00-12:00",
                             "Su[-1] 10:00-26:00", "17:00-23:00+", "Dec 24,31 off", "Mo 22:00-02:00 open \"bar\""}) {
        const Hours hours = read_hours(text);
        CHECK_MESSAGE(!hours.refusal(), text);
        for (const auto& remark : hours.remarks())
            FAIL_CHECK(text << ": " << remark.text);
        CHECK(hours.text() == text);
    }
}

TEST_CASE("sloppy forms are understood, each with a remark") {
    const std::vector<std::pair<std::string, std::string>> forms{
        {"Mo-Fr 8:30-17:00", "Mo-Fr 08:30-17:00"},
        {"Mo-Fr 08.30-17.00", "Mo-Fr 08:30-17:00"},
        {"Mo-Fr 9-17", "Mo-Fr 09:00-17:00"},
        {"Su-Th 15-00; Fr-Sa 15-02", "Su-Th 15:00-00:00; Fr-Sa 15:00-02:00"},
        {"Mo-Fr 9:00am-5:30pm", "Mo-Fr 09:00-17:30"},
        {"Fri 11am - 11pm", "Fr 11:00-23:00"},
        {"Mo 12am-12pm", "Mo 00:00-12:00"},
        {"Mo-Fr 8h30-17h", "Mo-Fr 08:30-17:00"},
        {"Mo-Fr 8-17 Uhr", "Mo-Fr 08:00-17:00"},
        {"Do So Mon 10:00-12:00", "Th,Su,Mo 10:00-12:00"},
        {"Mo,Do,Fr 10:00-12:00", "Mo,Th,Fr 10:00-12:00"},
        {"Mon-Fri 10:00-12:00", "Mo-Fr 10:00-12:00"},
        {"Monday to Thur 10:00-12:00", "Mo-Th 10:00-12:00"},
        {"MO-FR 10:00-12:00", "Mo-Fr 10:00-12:00"},
        {"Mo\xE2\x80\x93"
         "Fr 09:00\xE2\x80\x93"
         "12:30",
         "Mo-Fr 09:00-12:30"},
        {"Mo-Fr 10:00-12:00;", "Mo-Fr 10:00-12:00"},
        {"Mo 10:00-12:00;; Tu 10:00-12:00", "Mo 10:00-12:00; Tu 10:00-12:00"},
        {";Mo 10:00-12:00", "Mo 10:00-12:00"},
        {"Mo-Fr 08:00-19:00 Sa 09:00-19:00", "Mo-Fr 08:00-19:00; Sa 09:00-19:00"},
        {"Mo-Fr 12:00-15:00 / 19:00-23:00", "Mo-Fr 12:00-15:00,19:00-23:00"},
        {"Su & PH 07:00-12:00", "Su,PH 07:00-12:00"},
        {"Sa and Su 07:00-12:00", "Sa,Su 07:00-12:00"},
        {"15 Jun-15 Sep", "Jun 15-Sep 15"},
        {"Jan-Dez", "Jan-Dec"},
        {"June-August 10:00-12:00", "Jun-Aug 10:00-12:00"},
        {"Su Off", "Su off"},
        {"Mo 10:00-12:00; ph off", "Mo 10:00-12:00; PH off"},
        {"Mo 10:00-Sunset", "Mo 10:00-sunset"},
    };
    for (const auto& [sloppy, strict] : forms) {
        const Hours hours = read_hours(sloppy);
        CHECK_MESSAGE(!hours.refusal(), sloppy << ": " << (hours.refusal() ? hours.refusal()->reason : ""));
        CHECK_MESSAGE(!hours.remarks().empty(), sloppy);
        CHECK_MESSAGE(same_rules(sloppy, strict), sloppy);
    }
}

TEST_CASE("blanks are free, and carry no remark") {
    CHECK(same_rules("  Mo -  Fr   08:00 - 12:00 ,13:00-17:00;Sa 10:00-12:00 ",
                     "Mo-Fr 08:00-12:00,13:00-17:00; Sa 10:00-12:00"));
    CHECK(same_rules("Fr11:00-24:00", "Fr 11:00-24:00"));
    CHECK(read_hours("Mo-Fr 08:00 - 12:00").remarks().empty());
}

TEST_CASE("weeks over New Year and spans from 24:00 are outside the specification and understood") {
    CHECK(read_hours("week 51-2").remarks().size() == 1);
    CHECK(read_hours("24:00-26:00").remarks().size() == 1);
}

TEST_CASE("what makes no sense is refused with the place and the reason") {
    struct Case {
        std::string text;
        std::size_t position;
        std::string reason; ///< a part of it
    };
    const std::vector<Case> cases{
        {"", 0, "nothing is said"},
        {"  ;", 0, "nothing is said"},
        {"noon to late", 0, "\"noon\" is no word of opening hours"},
        {"Mo-Fr 07:00-16:15; Summer 07:00-13:00", 19, "\"Summer\" is no word of opening hours"},
        {"+423 233 44 22", 0, "\"+\" stands where a day or a time should"},
        {"Mo-Fr 08:00", 6, "a moment is no span"},
        {"Mo 10", 5, "the text ends where the minutes or the end of a span should stand"},
        {"Mo 10:00-25:70", 12, "\"70\" is no minute, 0 to 59"},
        {"Mo 10:0-12:00", 6, "a minute of two digits"},
        {"Mo 25:00-26:00", 3, "\"25\" is no hour, 0 to 24"},
        {"Mo 24:30-26:00", 3, "a time later than 24:00"},
        {"Mo 10:00-49:00", 9, "\"49\" is no hour, 0 to 48"},
        {"Mo 13pm-14pm", 5, "after an hour that is not 1 to 12"},
        {"Mo 10:00 - 2:00AM", 3, "am or pm stands at one end only"},
        {"Mo 9+", 3, "an hour without minutes and without an end"},
        {"10:00-16:00/90", 11, "moments at a distance"},
        {"10:00-16:00/01:30", 11, "moments at a distance"},
        {"Mo-", 3, "the text ends where a weekday should stand"},
        {"Mo[6] 10:00-12:00", 3, "\"6\" is no count within the month, 1 to 5"},
        {"Mo[1 10:00-12:00", 5, "stands where ] should"},
        {"Feb 30 10:00-12:00", 4, "the month has no day 30"},
        {"31 Jun", 0, "the month has no day 31"},
        {"Jun 10-May", 7, "a span begins with a day and ends with a month"},
        {"Jun-Aug 15", 8, "a span begins with a month and ends with a day"},
        {"Dec 15-10", 0, "a span of days ends before it begins"},
        {"Dec 24-2027 Jan 02", 0, "the first date of the span needs its year too"},
        {"2027 Dec-2028 Jan", 9, "a span of months with two years needs days"},
        {"Dec 24+ 10:00-12:00", 6, "a date without end needs a year"},
        {"2027-2025 10:00-12:00", 10, "a span of years ends before it begins"},
        {"Jun-Aug, Mo 10:00-12:00", 7, "a comma between dates and weekdays can mean two things"},
        {"week 60 10:00-12:00", 5, "\"60\" is no week, 1 to 53"},
        {"week 51-2/2", 9, "a step in weeks over New Year"},
        {"Mo 10:00-12:00 \"ring", 15, "a comment begins here and has no closing quote"},
        {"Mo 10:00-12:00 ||", 17, "the text ends where a rule should stand"},
        {"Mo 10:00-12:00 maybe", 15, "\"maybe\" stands where ; or the end should"},
        {"Mo 10:00-12:00 | off", 15, "the sign | has no meaning"},
        {"Mo-Fr 16:00-, Sa 14:00-", 12, "\",\" stands where a time of day or of the sun should"},
        {"(sunset+01:00-22:00", 13, "stands where ) should"},
        {"(sunset)-22:00", 7, "stands where + or - should"},
        {"(sunset+0100)-22:00", 8, "is no hour, 0 to 24"},
        {"(sunset+01)-22:00", 10, "stands where : should"},
        {"Mo 12345", 3, "\"12345\" is no time and no date"},
        {"Mo 0900-1700", 3, "\"0900\" stands where ; or the end should"},
        {std::string(2001, 'x'), 2000, "longer than 2,000 bytes"},
    };
    for (const Case& wrong : cases) {
        const Hours hours = read_hours(wrong.text);
        REQUIRE_MESSAGE(hours.refusal(), wrong.text);
        CHECK_MESSAGE(hours.refusal()->reason.find(wrong.reason) != std::string::npos,
                      wrong.text << ": " << hours.refusal()->reason);
        CHECK_MESSAGE(hours.refusal()->position == wrong.position, wrong.text << ": " << hours.refusal()->reason);
        CHECK(hours.rules().empty());
    }
}

TEST_CASE("any beginning of a text is read or refused, never more") {
    const std::string text =
        "Jun-Aug: Sa[1,-1] +1 day,PH 10:00-(sunset-01:00)+ open \"x\" || 2027 Dec 24-easter week 3/2 off";
    for (std::size_t length = 0; length <= text.size(); ++length)
        for (std::size_t begin = 0; begin <= length; ++begin) {
            const Hours hours = read_hours(text.substr(begin, length - begin));
            CHECK(hours.rules().empty() == hours.refusal().has_value());
            if (hours.refusal())
                CHECK(hours.refusal()->position <= length - begin);
        }
}

TEST_CASE("every value of the real extracts is read, or refused with a reason") {
    const auto file = support::shared_data("opening_hours_values.txt");
    if (!file)
        return;
    std::ifstream lines(*file);
    std::string line;
    std::size_t read = 0;
    std::size_t with_remarks = 0;
    std::size_t refused = 0;
    while (std::getline(lines, line)) {
        if (line.empty() || line.front() == '#')
            continue;
        const std::string value = line.substr(line.find('\t', line.find('\t') + 1) + 1);
        const Hours hours = read_hours(value);
        CHECK(hours.rules().empty() == hours.refusal().has_value());
        if (hours.refusal()) {
            CHECK_FALSE(hours.refusal()->reason.empty());
            CHECK(hours.refusal()->position <= value.size());
            MESSAGE("refused: ", value, ": ", hours.refusal()->reason);
            ++refused;
        } else {
            ++read;
            with_remarks += hours.remarks().empty() ? 0 : 1;
        }
    }
    MESSAGE(read, " read, ", with_remarks, " of them with remarks; ", refused, " refused");
    CHECK(read + refused == 813);
    CHECK(read > 0);
}
